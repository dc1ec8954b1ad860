import { SubjectLink, subjectName } from '../kit/subject-link.js';
import { Ago, When } from '../kit/when.js';
import { useRole } from '../session/session-gate.js';
import { HOUSE } from '../units/unit-queries.js';
import { evidenceInWords } from './hold-evidence-words.js';
import { nextStep } from './hold-next.js';
import type { ExplainedHold } from './hold-shape.js';
import './hold-top.css';

/** The hold at first sight: what is held, why, what would resolve it, and whose turn it is. */
export function HoldTop({ hold }: { readonly hold: ExplainedHold }) {
  const { subject, unit, customer, evidence, remedy, raisedAt, cause } = hold;
  const { who, does, mine } = nextStep(hold);
  const isOpen = hold.state === 'open';
  // Devices by themselves are for the house.
  const isHouse = useRole(...HOUSE);
  return (
    <dl className={`hold-top${isOpen ? '' : ' hold-top--closed'}`}>
      <div>
        <dt>{isOpen ? 'Held' : 'Was held'}</dt>
        <dd>
          <strong className="hold-top__subject">
            {subject.kind === 'unit' || subject.kind === 'site' || isHouse ? (
              <SubjectLink subject={subject} />
            ) : (
              <span className="mono">{subjectName(subject)}</span>
            )}
          </strong>
          {subject.kind === 'device' && unit !== null && (
            <p>
              came to light on <SubjectLink subject={{ kind: 'unit', ...unit }} />
            </p>
          )}
          {customer !== null && <p>{customer}</p>}
        </dd>
      </div>
      <div>
        <dt>Why</dt>
        <dd>
          <strong>{evidenceInWords(evidence.summary)}</strong>
          <p className="quiet">
            {cause !== null && 'time' in cause && (
              <>
                happened <When at={cause.time} />,{' '}
              </>
            )}
            raised <Ago at={raisedAt} />
          </p>
        </dd>
      </div>
      <div>
        <dt>Way out</dt>
        <dd>{evidenceInWords(remedy)}</dd>
      </div>
      <div className={mine ? 'hold-top__mine' : undefined}>
        <dt>{isOpen ? 'Next' : 'Closed'}</dt>
        <dd>
          {mine && <strong className="hold-top__you">You can act now. </strong>}
          {isOpen && <strong>{who}</strong>} {does}
        </dd>
      </div>
    </dl>
  );
}
