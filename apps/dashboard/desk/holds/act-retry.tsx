import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';
import { asProblem } from '../api/api-problem.js';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Button } from '../kit/button.js';
import { renewHold } from './hold-query.js';

interface ActRetryProps {
  readonly hold: string;
  readonly event: { readonly source: string; readonly id: string };
  /** Only quality and admins try it again. */
  readonly mayRetry: boolean;
}

const LOOK_AGAIN_MS = 700;

/** How a parked event stands: why it could not be applied, what would mend that, and another try. */
export function ActRetry({ hold, event, mayRetry }: ActRetryProps) {
  const queries = useQueryClient();
  const { source, id } = event;
  const status = useQuery({
    queryKey: keys.eventStatus(source, id),
    queryFn: () => dataOf(api.GET('/v1/events', { params: { query: { source, id } } })),
    refetchInterval: ({ state }) => (state.data?.state === 'pending' ? LOOK_AGAIN_MS : false),
  });
  const state = status.data?.state;
  useEffect(() => {
    // The hold ends in the same commit.
    if (state === 'applied') void renewHold(queries, hold);
  }, [state, hold, queries]);
  const retry = useMutation({
    mutationFn: () => dataOf(api.POST('/v1/events/retries', { body: { source, id } })),
    onSuccess: () => Promise.all([status.refetch(), renewHold(queries, hold)]),
  });
  return (
    <>
      {status.data !== undefined && <EventState status={status.data} isRetried={retry.isSuccess} />}
      {(status.isError || retry.isError) && (
        <p role="alert" className="form__error">
          {asProblem(retry.error ?? status.error).title}. {asProblem(retry.error ?? status.error).detail}
        </p>
      )}
      {mayRetry && state !== 'applied' && (
        <Button
          tone="main"
          busy={retry.isPending || state === 'pending'}
          onClick={() => {
            retry.mutate();
          }}
        >
          Try the event again
        </Button>
      )}
    </>
  );
}

function EventState({ status, isRetried }: { readonly status: Schemas['EventStatus']; readonly isRetried: boolean }) {
  const { state, reason } = status;
  if (state === 'pending') return <p role="status">It is being judged.</p>;
  if (state === 'applied') return <p role="status">It has been applied; with that the hold ends.</p>;
  if (state === 'annulled') return <p role="status">It was struck.</p>;
  // Why it is parked stands above, as why there is a hold.
  if (!isRetried || reason === undefined) return null;
  return (
    <p role="status">
      <strong>Tried, and parked again.</strong> {reason.detail} <span className="quiet">{reason.remedy}</span>
    </p>
  );
}
