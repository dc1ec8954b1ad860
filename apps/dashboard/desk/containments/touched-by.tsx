import type { Schemas } from '../api/client.js';
import { When } from '../kit/when.js';
import { entryWords } from '../words/words.js';

interface TouchedByProps {
  readonly item: Pick<Schemas['Contained'], 'touches' | 'entries' | 'through'>;
}

/** The entries by which a cause reached a unit or device, and the devices that brought it there. */
export function TouchedBy({ item: { touches, entries, through } }: TouchedByProps) {
  return (
    <details>
      <summary>
        {touches === 1 ? '1 entry' : `${String(touches)} entries`}
        {through.length > 0 &&
          `, through ${through.length === 1 ? String(through[0]) : `${String(through.length)} devices`}`}
      </summary>
      <ul className="containment-list">
        {entries.map(({ ledger, seq, type, at }) => (
          <li key={`${ledger} ${String(seq)}`}>
            {entryWords(type)}, <When at={at} />, entry {seq} of <span className="mono">{ledger}</span>
          </li>
        ))}
        {touches > entries.length && <li className="quiet">and {touches - entries.length} more</li>}
        {through.length > 1 && <li className="quiet">through {through.join(', ')}</li>}
      </ul>
    </details>
  );
}
