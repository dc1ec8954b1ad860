import { useState } from 'react';
import { Button } from '../kit/button.js';
import { Modal } from '../kit/modal.js';
import { useSession } from '../session/session-gate.js';
import { turnsOf } from './assign-in-turns.js';
import { AssignOutcomeWords } from './assign-outcome-words.js';
import { type Picked, without } from './desk-selection.js';
import { useAssigning } from './use-assigning.js';

interface DeskTakeProps {
  readonly picked: Picked;
  readonly onPicked: (picked: Picked) => void;
}

/** Takes what is selected oneself, in one click. Due dates stay as they are. What could not be had is told in a dialog. */
export function DeskTake({ picked, onPicked }: DeskTakeProps) {
  const { name, roles } = useSession();
  const [isTold, setTold] = useState(false);
  const { assign, busy, done, outcome } = useAssigning(({ assigned, refused, stopped }) => {
    if (refused.length === 0 && stopped === null) onPicked(without(picked, assigned));
    else setTold(true);
  });
  // An admin may give holds out, but works on none.
  if (!roles.some((role) => ['quality', 'approver', 'operator'].includes(role))) return null;
  return (
    <>
      <Button
        busy={busy}
        onClick={() => {
          assign(turnsOf(picked, name, 'as-it-is'));
        }}
      >
        {busy ? `Taking, ${done} of ${picked.size}` : picked.size === 1 ? 'Take it myself' : 'Take these myself'}
      </Button>
      {isTold && outcome !== undefined && (
        <Modal
          title="Not all could be taken"
          onClose={() => {
            setTold(false);
            onPicked(without(picked, outcome.assigned));
          }}
        >
          <AssignOutcomeWords outcome={outcome} assignee={name} of={picked.size} />
        </Modal>
      )}
    </>
  );
}
