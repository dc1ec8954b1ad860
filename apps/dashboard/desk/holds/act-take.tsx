import { useMutation, useQueryClient } from '@tanstack/react-query';
import { asProblem } from '../api/api-problem.js';
import { Button } from '../kit/button.js';
import { useSession } from '../session/session-gate.js';
import { putAssignment } from './act-assignment.js';
import { changesBetween } from './hold-changes.js';
import { renewHold } from './hold-query.js';
import type { ExplainedHold } from './hold-shape.js';

/** Takes the hold oneself, in one click; its due date stays. Says so where somebody else was quicker. */
export function ActTake({ hold }: { readonly hold: ExplainedHold }) {
  const { name } = useSession();
  const queries = useQueryClient();
  const taking = useMutation({
    mutationFn: (seen: ExplainedHold) =>
      putAssignment(seen.id, { assignee: name, dueAt: seen.dueAt ?? null }, `"${seen.version ?? ''}"`),
    onSettled: () => renewHold(queries, hold.id),
  });
  const changes = taking.variables === undefined ? [] : changesBetween(taking.variables, hold);
  return (
    <>
      <Button
        busy={taking.isPending}
        onClick={() => {
          taking.mutate(hold);
        }}
      >
        Take it myself
      </Button>
      {taking.isError && (
        <p className="form__error" role="alert">
          {asProblem(taking.error).title}. {changes.length > 0 ? changes.join(' ') : asProblem(taking.error).detail}
        </p>
      )}
    </>
  );
}
