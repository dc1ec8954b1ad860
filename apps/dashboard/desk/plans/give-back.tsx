import { useMutation, useQueryClient } from '@tanstack/react-query';
import { api, dataOf } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Refusal } from '../kit/refusal.js';
import { Button } from '../kit/button.js';
import { Mark } from '../kit/marks.js';
import { useRole } from '../session/session-gate.js';

interface GiveBackProps {
  readonly id: string;
  readonly assembly: string;
  readonly serial: string;
}

/** Gives a clearance back, so that what it reserves is free again. */
export function GiveBack({ id, assembly, serial }: GiveBackProps) {
  const mayReturn = useRole('operator', 'quality', 'admin');
  const queries = useQueryClient();
  const giveBack = useMutation({
    mutationFn: () => dataOf(api.DELETE('/v1/clearances/{id}', { params: { path: { id } } })),
    onSettled: () =>
      Promise.all([
        queries.invalidateQueries({ queryKey: ['clearances'] }),
        queries.invalidateQueries({ queryKey: keys.unit(assembly, serial) }),
      ]),
  });
  if (!mayReturn) return null;
  if (giveBack.isSuccess) return <Mark>given back: it reserves nothing any more</Mark>;
  return (
    <div className="plan-give-back">
      <Button
        busy={giveBack.isPending}
        aria-label={`Give back clearance ${id}`}
        onClick={() => {
          giveBack.mutate();
        }}
      >
        Give back
      </Button>
      <Refusal error={giveBack.error} />
    </div>
  );
}
