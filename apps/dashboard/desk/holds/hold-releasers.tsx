import { useSession } from '../session/session-gate.js';
import { releasers } from './hold-next.js';
import { actionOf, type ExplainedHold, inForce } from './hold-shape.js';
import { useAssignees } from './use-assignees.js';

/** Names beyond these are counted. */
const MOST = 6;

/** Says to whom it falls to release a decided hold, where that is not whoever looks. */
export function HoldReleasers({ hold }: { readonly hold: ExplainedHold }) {
  const people = useAssignees();
  const { name } = useSession();
  if (people === undefined || inForce(hold) === undefined || actionOf(hold, 'release')?.allowed !== false) return null;
  const others = releasers(hold, people).filter((person) => person.name !== name);
  if (others.length === 0) {
    return (
      <p>
        <strong>Nobody else has an account that could release it.</strong> An admin can give somebody the role.
      </p>
    );
  }
  return (
    <div>
      <p>
        <strong>Who can release it:</strong>
      </p>
      <ul className="hold-actions__people">
        {others.slice(0, MOST).map((person) => (
          <li key={person.name}>
            {person.printedName} ({person.name})
          </li>
        ))}
      </ul>
      {others.length > MOST && <p className="quiet">and {others.length - MOST} more</p>}
    </div>
  );
}
