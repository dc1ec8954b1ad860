import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { asProblem } from '../api/api-problem.js';
import { changesBetween } from './hold-changes.js';
import { renewHold } from './hold-query.js';
import type { ExplainedHold } from './hold-shape.js';

export interface ActOnHold<Input> {
  readonly go: (input: Input) => void;
  readonly busy: boolean;
  /** Why it was refused, unless the hold only changed meanwhile: that is told by `changes`. */
  readonly error: unknown;
  /** What became of the hold since one looked, a sentence each. */
  readonly changes: readonly string[];
  /** One has seen the changes: acts from now on are about the hold as it is. */
  readonly accept: () => void;
}

/**
 * Acts on a hold as one saw it: where it has changed since, nothing is done, and what changed is told first.
 * @param hold as it is now; what it was when this began is what one has seen
 * @param act does it, if the hold is still of the version given (`If-Match`)
 */
export function useActOnHold<Input>(
  hold: ExplainedHold,
  act: (input: Input, version: string) => Promise<unknown>,
  onDone: () => void,
): ActOnHold<Input> {
  const queries = useQueryClient();
  const [seen, setSeen] = useState(hold);
  const doing = useMutation({
    mutationFn: (input: Input) => act(input, `"${seen.version ?? ''}"`),
    onSuccess: async () => {
      await renewHold(queries, hold.id);
      onDone();
    },
    onError: async (error) => {
      // Whatever it was refused for, the hold may no longer be what is shown.
      if ([409, 412].includes(asProblem(error).status)) await renewHold(queries, hold.id);
    },
  });
  const changes = doing.isPending ? [] : changesBetween(seen, hold);
  const isStale = doing.isError && asProblem(doing.error).code === 'hold-changed';
  return {
    go: doing.mutate,
    busy: doing.isPending,
    error: isStale && changes.length > 0 ? null : doing.error,
    changes,
    accept: () => {
      setSeen(hold);
      doing.reset();
    },
  };
}
