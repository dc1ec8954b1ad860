import { Link } from 'wouter';
import { Mark } from '../kit/marks.js';
import { When } from '../kit/when.js';
import { limitWords } from '../words/words.js';
import { shortSubject } from './effect-words.js';
import type { Verdict } from './entry-parts.js';
import { heatLength, peaksInWords } from './heat-words.js';
import { ledgerPath } from './ledger-path.js';
import type { LedgerSource } from './ledger-queries.js';
import type { ToldHeat } from './told-heats.js';
import './heat-table.css';

interface HeatTableProps {
  readonly source: LedgerSource;
  readonly heats: readonly ToldHeat[];
  /** Entries of the heats that are drawn. */
  readonly drawn: ReadonlySet<number>;
  /** How many may be drawn at once. */
  readonly most: number;
  /** Unless given, none is to be drawn. */
  readonly onPick: ((seq: number) => void) | undefined;
}

/** Heats, the latest first: when, what, how hot, what was judged, and which to draw. */
export function HeatTable({ source, heats, drawn, most, onPick }: HeatTableProps) {
  return (
    <div className="scroll-x" tabIndex={0} role="region" aria-label="Table of heats">
      <table className="rows heat-table">
        <caption className="unseen">
          Heats, the latest first{onPick === undefined ? '' : `; up to ${most} can be drawn over each other`}
        </caption>
        <thead>
          <tr>
            {onPick !== undefined && <th scope="col">Draw</th>}
            <th scope="col">When</th>
            <th scope="col">Step</th>
            <th scope="col">Peaks</th>
            <th scope="col">Judged</th>
          </tr>
        </thead>
        <tbody>
          {heats.toReversed().map((heat) => (
            <tr key={heat.seq} className={heat.struckBy === null ? undefined : 'heat-table__struck'}>
              {onPick !== undefined && (
                <td>
                  <Pick heat={heat} picked={drawn.has(heat.seq)} full={drawn.size >= most} onPick={onPick} />
                </td>
              )}
              <td className="heat-table__when">
                <When at={heat.startedAt} />
                <div className="quiet">{heatLength(heat)}</div>
              </td>
              <td>
                <Link href={ledgerPath(source, heat.seq)}>
                  {heat.seq} · {heat.title}
                </Link>
                {heat.struckBy !== null && <Mark tone="stop">struck by entry {heat.struckBy}</Mark>}
              </td>
              <td>
                {peaksInWords(heat).map((words) => (
                  <div key={words}>{words}</div>
                ))}
              </td>
              <td>
                <Judged heat={heat} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

interface PickProps {
  readonly heat: ToldHeat;
  readonly picked: boolean;
  /** As many are drawn as may be. */
  readonly full: boolean;
  readonly onPick: (seq: number) => void;
}

function Pick({ heat: { seq, trace }, picked, full, onPick }: PickProps) {
  if (trace === undefined) return <span className="quiet">no trace</span>;
  return (
    <label className="heat-table__pick">
      <input
        type="checkbox"
        checked={picked}
        disabled={!picked && full}
        onChange={() => {
          onPick(seq);
        }}
      />
      <span className="unseen">Draw entry {seq}</span>
    </label>
  );
}

function Judged({ heat: { verdicts, struckBy } }: { readonly heat: ToldHeat }) {
  if (struckBy !== null) return <span className="quiet">nothing follows from it any more</span>;
  if (verdicts.length === 0) return <span className="quiet">nothing was spent</span>;
  return (
    <ul className="heat-table__verdicts">
      {verdicts.map((verdict, n) => (
        <li key={n}>
          <Counted kind={verdict.kind} /> {shortSubject(verdict.subject)}, {limitWords(verdict.limit).toLowerCase()}
          <div className="quiet">{verdict.count.why}</div>
        </li>
      ))}
    </ul>
  );
}

function Counted({ kind }: Pick<Verdict, 'kind'>) {
  if (kind === 'counted') return <strong>● one more:</strong>;
  return kind === 'possible' ? <strong>○ perhaps one, not counted:</strong> : <span>– none:</span>;
}
