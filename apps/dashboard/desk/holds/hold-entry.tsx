import { Mark } from '../kit/marks.js';
import { When } from '../kit/when.js';
import { type Entry, textIn } from '../units/entry-parts.js';
import { entryWords } from '../words/words.js';
import { actorInWords, countedInShort, entryInWords } from '../units/entry-words.js';

const MOVED = 'heatbook.device.moved.v1';

interface HoldEntryProps {
  readonly entry: Entry;
  /** It called for the hold. */
  readonly isCause: boolean;
  /** The entry that strikes it. */
  readonly struckBy: number | undefined;
}

/** An entry of a ledger: when, what, who; and, opened, what came of it and the entry as it is kept. */
export function HoldEntry({ entry, isCause, struckBy }: HoldEntryProps) {
  const { seq, time, actor, data, effects, hash, signer } = entry;
  const { details } = entryInWords(entry);
  const title = titleOf(entry);
  const counted = countedInShort(entry);
  return (
    <li className={isCause ? 'hold-entries__cause' : undefined}>
      <details>
        <summary>
          <span className="hold-entries__seq mono">{seq}</span>
          <When at={time} />
          <span>
            <span className="hold-entries__what">{struckBy === undefined ? title : <s>{title}</s>}</span>{' '}
            {counted.length > 0 && <span className="quiet">counts: {counted.join(', ')}</span>}{' '}
            {isCause && <Mark tone="stop">called for this hold</Mark>}
            {struckBy !== undefined && <Mark tone="caution">struck by entry {struckBy}</Mark>}
          </span>
          <span className="quiet">{actorInWords(actor, signer?.printedName)}</span>
        </summary>
        <div className="hold-entries__opened">
          {details.length > 0 && (
            <ul>
              {details.map((detail, n) => (
                <li key={`${n} ${detail}`}>{detail}</li>
              ))}
            </ul>
          )}
          <details>
            <summary>As it is kept</summary>
            <pre tabIndex={0} aria-label={`Entry ${seq} as it is kept`}>
              {JSON.stringify({ data, effects, hash }, null, 2)}
            </pre>
          </details>
        </div>
      </details>
    </li>
  );
}

/** A step of a board that moved the device is named by what it was. */
function titleOf(entry: Entry): string {
  const moved = entry.type === MOVED ? textIn(entry.data, 'type') : undefined;
  return moved === undefined ? entryInWords(entry).title : `${entryWords(moved)}, as its board tells`;
}
