import { Link } from 'wouter';
import { Block } from '../kit/page.js';
import { SubjectLink } from '../kit/subject-link.js';
import { Ago } from '../kit/when.js';
import { paths } from '../paths.js';
import { useRole } from '../session/session-gate.js';
import { reasonWords, stageWords } from '../words/words.js';
import { HoldConcessions } from './hold-concessions.js';
import { HoldSuspects } from './hold-suspects.js';
import type { ExplainedHold } from './hold-shape.js';
import './hold-around.css';

/** What stands around a hold: others on the same unit, concessions, and the containment that it came from or calls for. */
export function HoldAround({ hold }: { readonly hold: ExplainedHold }) {
  const { otherHolds, containment, subject } = hold;
  const isOfBoard = ['unit', 'site', 'device'].includes(subject.kind);
  const seesContainments = useRole('quality', 'approver', 'auditor', 'admin');
  return (
    <Block title="Around it">
      <div className="hold-around">
        {containment !== null && (
          <section>
            <h3>Containment</h3>
            <p>
              It was raised by{' '}
              {seesContainments ? (
                <Link href={paths.containment(containment)}>a containment</Link>
              ) : (
                'a containment of a suspect cause'
              )}
              , together with others that the same cause touched.
            </p>
          </section>
        )}
        <section>
          <h3>Other open holds here</h3>
          {otherHolds.length === 0 ? (
            <p className="quiet">None: this is the only stop.</p>
          ) : (
            <ul>
              {otherHolds.map(({ id, reason, subject: other, stage, raisedAt }) => (
                <li key={id}>
                  <Link href={paths.hold(id)}>{reasonWords(reason)}</Link> on <SubjectLink subject={other} />,{' '}
                  {stageWords(stage).toLowerCase()}, <Ago at={raisedAt} />
                </li>
              ))}
            </ul>
          )}
        </section>
        {isOfBoard && <HoldConcessions concessions={hold.concessions} />}
        <HoldSuspects hold={hold} />
      </div>
    </Block>
  );
}
