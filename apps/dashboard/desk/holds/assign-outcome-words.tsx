import { Link } from 'wouter';
import { paths } from '../paths.js';
import type { AssignOutcome } from './assign-in-turns.js';
import { groupsOf, holdsInWords } from './desk-words.js';

interface AssignOutcomeWordsProps {
  readonly outcome: AssignOutcome;
  readonly assignee: string | null;
  /** How many were to be assigned. */
  readonly of: number;
}

/** Refusals beyond these are counted; they stay selected. */
const MOST_NAMED = 20;

/** What came of assigning, with every hold that was refused and why. */
export function AssignOutcomeWords({ outcome, assignee, of }: AssignOutcomeWordsProps) {
  const { assigned, refused, stopped } = outcome;
  const untried = of - assigned.length - refused.length;
  return (
    <div role="status">
      <p>
        <strong>
          {groupsOf(assigned.length)} of {holdsInWords(of)} {assignee === null ? 'given back' : `now with ${assignee}`}
        </strong>
        {untried > 0 && `; ${groupsOf(untried)} left as they were`}.
      </p>
      {stopped !== null && (
        <p className="form__error">
          {stopped.title}. {stopped.detail}
        </p>
      )}
      {refused.length > 0 && (
        <>
          <p>Refused, and still selected:</p>
          <ul>
            {refused.slice(0, MOST_NAMED).map(({ id, problem }) => (
              <li key={id}>
                <Link className="mono" href={paths.hold(id)}>
                  {id.slice(0, 8)}
                </Link>{' '}
                {problem.title}. {problem.detail}
              </li>
            ))}
          </ul>
          {refused.length > MOST_NAMED && <p>and {groupsOf(refused.length - MOST_NAMED)} more.</p>}
        </>
      )}
    </div>
  );
}
