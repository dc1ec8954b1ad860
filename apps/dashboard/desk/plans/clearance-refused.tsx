import { Link } from 'wouter';
import { asProblem } from '../api/api-problem.js';
import { Refusal } from '../kit/refusal.js';
import { Mark } from '../kit/marks.js';
import { SubjectLink } from '../kit/subject-link.js';
import { Tally } from '../kit/tally.js';
import { tallyInWords } from '../kit/tally-cells.js';
import { paths } from '../paths.js';
import { withEntryWords } from '../units/unit-text.js';
import { planReasonWords } from './plan-words.js';
import { refusalReasons } from './refusal-reasons.js';

/** Why a clearance was refused: every reason, with its figures and its way out. */
export function ClearanceRefused({ error }: { readonly error: unknown }) {
  const reasons = refusalReasons(asProblem(error).members);
  if (reasons.length === 0) return <Refusal error={error} />;
  return (
    <div className="plan-answer plan-answer--refused" role="alert">
      <h3>
        <Mark tone="stop">refused</Mark> for {reasons.length === 1 ? 'one reason' : `${String(reasons.length)} reasons`}
      </h3>
      <ul className="plan-list">
        {reasons.map(({ code, subject, detail, remedy, hold, figures }, n) => (
          <li key={`${String(n)} ${code}`}>
            <div>
              <strong>{planReasonWords(code)}</strong>: <SubjectLink subject={subject} />
            </div>
            {figures !== undefined && (
              <div>
                <Tally {...figures} /> <span className="quiet">{tallyInWords(figures)}, with this</span>
              </div>
            )}
            <div>{withEntryWords(detail)}</div>
            <div className="quiet">
              Way out: {withEntryWords(remedy)}{' '}
              {hold !== undefined && <Link href={paths.hold(hold)}>See the hold</Link>}
            </div>
          </li>
        ))}
      </ul>
    </div>
  );
}
