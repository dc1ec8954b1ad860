import { Block } from '../kit/page.js';
import { Ago, When } from '../kit/when.js';
import { useSession } from '../session/session-gate.js';
import { ActTake } from './act-take.js';
import { HoldActions } from './hold-actions.js';
import { HoldCautions } from './hold-cautions.js';
import { actionOf, type ExplainedHold } from './hold-shape.js';
import { HoldStages } from './hold-stages.js';
import './hold-side.css';

/** How far the work on a hold has got, who has it, and what can be done now. */
export function HoldSide({ hold }: { readonly hold: ExplainedHold }) {
  // Customers see how it stands; how the house works on it is the house's.
  const isHouse = hold.actions !== undefined;
  return (
    <Block title={isHouse ? 'What to do' : 'How it stands'}>
      <HoldStages hold={hold} />
      {isHouse && hold.state === 'open' && <Assigned hold={hold} />}
      {isHouse && <HoldActions hold={hold} />}
      {isHouse && <HoldCautions hold={hold} />}
    </Block>
  );
}

function Assigned({ hold }: { readonly hold: ExplainedHold }) {
  const { name, roles } = useSession();
  const { assignee, dueAt, overdue } = hold;
  const mayTake =
    actionOf(hold, 'assign')?.allowed === true && roles.some((role) => role === 'quality' || role === 'approver');
  return (
    <>
      <dl className="facts hold-side__who">
        <dt>With</dt>
        <dd>{assignee == null ? 'nobody yet' : assignee === name ? `you (${name})` : assignee}</dd>
        {dueAt != null && (
          <>
            <dt>Due</dt>
            <dd>
              <When at={dueAt} /> (<Ago at={dueAt} />){overdue === true && <strong> overdue</strong>}
            </dd>
          </>
        )}
      </dl>
      {mayTake && assignee !== name && <ActTake hold={hold} />}
    </>
  );
}
