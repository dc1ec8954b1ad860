import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useEffect, useRef, useState } from 'react';
import { api, dataOf } from '../api/client.js';
import { assignInTurns, type AssignOutcome, type Turn } from './assign-in-turns.js';

/** Assigns turn by turn, and renews what is shown of the holds when it is over, however it went. */
export function useAssigning(onOver: (outcome: AssignOutcome) => void) {
  const queries = useQueryClient();
  const [done, setDone] = useState(0);
  const stop = useRef<AbortController>(undefined);
  // Whoever goes away meanwhile has no more of it done than what is under way.
  useEffect(
    () => () => {
      stop.current?.abort();
    },
    [],
  );
  const work = useMutation({
    mutationFn: (turns: readonly Turn[]) => {
      setDone(0);
      stop.current = new AbortController();
      return assignInTurns(turns, sendTurn, { tell: setDone, signal: stop.current.signal });
    },
    onSuccess: async (outcome) => {
      onOver(outcome);
      await Promise.all(
        [['holds'], ['hold-summary'], ['hold']].map((queryKey) => queries.invalidateQueries({ queryKey })),
      );
    },
  });
  return {
    assign: work.mutate,
    busy: work.isPending,
    /** Holds done with so far. */
    done,
    outcome: work.data,
    /** Ends it after the turn under way. */
    stop: () => stop.current?.abort(),
  };
}

function sendTurn({ holds, assignee, dueAt }: Turn): Promise<unknown> {
  return dataOf(api.POST('/v1/hold-assignments', { body: { holds: [...holds], assignee, dueAt } }));
}
