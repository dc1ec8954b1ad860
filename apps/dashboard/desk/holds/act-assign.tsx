import { type SyntheticEvent, useState } from 'react';
import { asProblem } from '../api/api-problem.js';
import type { Schemas } from '../api/client.js';
import { Button } from '../kit/button.js';
import { Field } from '../kit/field.js';
import { putAssignment } from './act-assignment.js';
import { ActChanged } from './act-changed.js';
import { ActRefused } from './act-refused.js';
import { AssigneeField, NOBODY } from './assignee-field.js';
import type { ExplainedHold } from './hold-shape.js';
import { useActOnHold } from './use-act-on-hold.js';

interface ActAssignProps {
  readonly hold: ExplainedHold;
  readonly onDone: () => void;
}

/** Gives the hold to somebody, with a due date where one is wanted. */
export function ActAssign({ hold, onDone }: ActAssignProps) {
  const [assignee, setAssignee] = useState(hold.assignee ?? '');
  const [day, setDay] = useState(dayOf(hold.dueAt ?? null));
  const { go, busy, error, changes, accept } = useActOnHold(
    hold,
    (body: Schemas['AssignmentBody'], version) => putAssignment(hold.id, body, version),
    onDone,
  );
  const submit = (event: SyntheticEvent) => {
    event.preventDefault();
    if (busy) return;
    go({ assignee: assignee === NOBODY ? null : assignee, dueAt: day === '' ? null : endOf(day) });
  };
  return (
    <>
      <ActRefused hold={hold} action="assign" />
      <form className="form" onSubmit={submit}>
        <AssigneeField value={assignee} onChange={setAssignee} />
        <Field label="Due by the end of" hint="Leave it empty for no due date.">
          <input
            type="date"
            value={day}
            onChange={(event) => {
              setDay(event.target.value);
            }}
          />
        </Field>
        <ActChanged changes={changes} onAccept={accept} />
        {error !== null && (
          <p role="alert" className="form__error">
            {asProblem(error).title}. {asProblem(error).detail}
          </p>
        )}
        <Button tone="main" type="submit" busy={busy}>
          Assign
        </Button>
      </form>
    </>
  );
}

/** The day here that a moment is in, as a date field takes it. */
function dayOf(at: string | null): string {
  if (at === null) return '';
  const date = new Date(at);
  const two = (part: number) => String(part).padStart(2, '0');
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}

function endOf(day: string): string {
  return new Date(`${day}T23:59:59`).toISOString();
}
