import { type SyntheticEvent, useState } from 'react';
import { Button } from '../kit/button.js';
import { Field } from '../kit/field.js';
import { Modal } from '../kit/modal.js';
import { turnsOf } from './assign-in-turns.js';
import { AssignOutcomeWords } from './assign-outcome-words.js';
import { AssigneeField, NOBODY } from './assignee-field.js';
import type { Picked } from './desk-selection.js';
import { groupsOf, holdsInWords } from './desk-words.js';
import { useAssigning } from './use-assigning.js';

interface DeskAssignProps {
  readonly picked: Picked;
  /** Called with the holds that have been assigned. */
  readonly onDone: (ids: readonly string[]) => void;
  readonly onClose: () => void;
}

type Due = 'as-it-is' | 'by' | 'none';

/** Gives what is selected to somebody, with a due date where one is wanted; says how far it has got and what was refused. */
export function DeskAssign({ picked, onDone, onClose }: DeskAssignProps) {
  // What was selected when it opened: it is taken out of the selection as it is done.
  const [holds] = useState(picked);
  const [assignee, setAssignee] = useState('');
  const [due, setDue] = useState<Due>('as-it-is');
  const [day, setDay] = useState('');
  const { assign, busy, done, outcome, stop } = useAssigning(({ assigned }) => {
    onDone(assigned);
  });
  const whom = assignee === NOBODY ? null : assignee;
  const submit = (event: SyntheticEvent) => {
    event.preventDefault();
    if (busy) return;
    assign(turnsOf(holds, whom, due === 'as-it-is' ? due : { dueAt: due === 'by' ? endOf(day) : null }));
  };
  const close = () => {
    stop();
    onClose();
  };
  if (outcome !== undefined && outcome.stopped === null) {
    return (
      <Modal title={`Assign ${holdsInWords(holds.size)}`} onClose={onClose}>
        <AssignOutcomeWords outcome={outcome} assignee={whom} of={holds.size} />
      </Modal>
    );
  }
  return (
    <Modal title={`Assign ${holdsInWords(holds.size)}`} onClose={close}>
      <form className="form" onSubmit={submit}>
        <AssigneeField value={assignee} onChange={setAssignee} />
        <Field label="Due date">
          <select
            value={due}
            onChange={(event) => {
              setDue(event.target.value as Due);
            }}
          >
            <option value="as-it-is">as each hold has it</option>
            <option value="by">by the end of a day</option>
            <option value="none">none</option>
          </select>
        </Field>
        {due === 'by' && (
          <Field label="Day">
            <input
              type="date"
              required
              value={day}
              onChange={(event) => {
                setDay(event.target.value);
              }}
            />
          </Field>
        )}
        {outcome !== undefined && <AssignOutcomeWords outcome={outcome} assignee={whom} of={holds.size} />}
        <Button tone="main" type="submit" busy={busy}>
          {busy ? `${groupsOf(done)} of ${groupsOf(holds.size)}` : `Assign ${holdsInWords(holds.size)}`}
        </Button>
        {busy && (
          <div>
            <progress value={done} max={holds.size} aria-label="Holds assigned" />{' '}
            <Button tone="bare" onClick={stop}>
              Stop after this turn
            </Button>
          </div>
        )}
      </form>
    </Modal>
  );
}

/** The last moment of a day here, as the API takes it. @param day `2026-03-03` */
function endOf(day: string): string {
  return new Date(`${day}T23:59:59`).toISOString();
}
