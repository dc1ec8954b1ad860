import type { Schemas } from '../api/client.js';
import { Mark } from '../kit/marks.js';
import { SubjectLink } from '../kit/subject-link.js';
import { Tally } from '../kit/tally.js';
import { tallyInWords } from '../kit/tally-cells.js';
import { Ago, When } from '../kit/when.js';
import { limitWords } from '../words/words.js';
import { ClearanceId } from './clearance-id.js';
import { GiveBack } from './give-back.js';
import { planReasonWords } from './plan-words.js';

/** What was granted: the id that the bench needs, until when, what it reserves, and what is warned about. */
export function ClearanceGranted({ clearance }: { readonly clearance: Schemas['Clearance'] }) {
  const { id, assembly = '', serial = '', station, operator, expiresAt, spends, warnings } = clearance;
  return (
    <div className="plan-answer plan-answer--granted">
      <div role="status">
        <h3>
          <Mark tone="good">granted</Mark> to {operator} at {station}; lapses <Ago at={expiresAt} />
        </h3>
      </div>
      <p className="quiet">
        The station names it with each event of this work, until <When at={expiresAt} />.
      </p>
      <ClearanceId id={id} />
      <h4>Reserved by it</h4>
      <ul className="plan-list">
        {spends.map(({ subject, limit, used, reserved, asked, allowed }) => {
          // What is reserved includes what was asked, once it is granted.
          const figures = { used, reserved, allowed: allowed ?? 0 };
          return (
            <li key={limit + JSON.stringify(subject)}>
              <strong>{asked}</strong> {limitWords(limit).toLowerCase()}: <SubjectLink subject={subject} />
              <div>
                {allowed !== null && <Tally {...figures} />}{' '}
                <span className="quiet">{allowed === null ? 'no limit' : tallyInWords(figures)}</span>
              </div>
            </li>
          );
        })}
      </ul>
      {warnings.length > 0 && <h4>Mind</h4>}
      <ul className="plan-list">
        {warnings.map(({ code, subject, detail, remedy }) => (
          <li key={code + JSON.stringify(subject)}>
            <Mark tone="caution">{planReasonWords(code)}</Mark> {detail} <span className="quiet">{remedy}</span>
          </li>
        ))}
      </ul>
      <GiveBack id={id} assembly={assembly} serial={serial} />
    </div>
  );
}
