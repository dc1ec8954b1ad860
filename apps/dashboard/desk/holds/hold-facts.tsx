import { Link } from 'wouter';
import { paths } from '../paths.js';
import { useRole } from '../session/session-gate.js';
import { HOUSE } from '../units/unit-queries.js';
import { evidenceInWords } from './hold-evidence-words.js';
import { HoldMismatch } from './hold-mismatch-table.js';
import type { ExplainedHold } from './hold-shape.js';
import './hold-facts.css';

/** Events beyond these are in the ledger below. */
const MOST = 5;

/** What the hold rests on: readings, counts, pads; and which station and who it was. */
export function HoldFacts({ hold }: { readonly hold: ExplainedHold }) {
  const { evidence, station, operator, raisedBy, reason, causes } = hold;
  const isHouse = useRole(...HOUSE);
  const details = evidence.details ?? [];
  return (
    <div className="hold-facts">
      {reason === 'summary-mismatch' ? (
        <HoldMismatch details={details} />
      ) : (
        details.length > 0 && (
          <div>
            <h3>It rests on</h3>
            <ol>
              {details.map((detail, n) => (
                <li key={`${n} ${detail}`}>{evidenceInWords(detail)}</li>
              ))}
            </ol>
          </div>
        )
      )}
      <dl className="facts">
        {station !== null && (
          <>
            <dt>Station</dt>
            <dd className="mono">{isHouse ? <Link href={paths.station(station)}>{station}</Link> : station}</dd>
          </>
        )}
        {operator !== null && (
          <>
            <dt>Operator</dt>
            <dd className="mono">{operator}</dd>
          </>
        )}
        {raisedBy !== null && (
          <>
            <dt>Raised by hand by</dt>
            <dd>{raisedBy}</dd>
          </>
        )}
        {causes.length > 0 && (
          <>
            <dt>{causes.length === 1 ? 'Event' : `${causes.length} events`}</dt>
            <dd className="mono">
              {causes.slice(0, MOST).map(({ source, id }) => (
                <span key={`${source} ${id}`} className="hold-facts__event">
                  {id}
                </span>
              ))}
              {causes.length > MOST && `and ${causes.length - MOST} more`}
            </dd>
          </>
        )}
      </dl>
    </div>
  );
}
