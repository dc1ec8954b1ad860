import { IncomingEvent } from '../ledger/ports/book-store.js';
import { RequestRef } from '../ledger/requests/request-ref.js';
import { Queries } from './queries.js';

/** The requests of events as two columns for unnest, which takes a null for a column of nulls: that is nearly always enough. */
export function requestColumns(events: readonly IncomingEvent[]): {
  readonly ids: readonly (string | null)[] | null;
  readonly traceparents: readonly (string | null)[] | null;
} {
  if (events.every(({ request }) => request === undefined)) return { ids: null, traceparents: null };
  return {
    ids: events.map(({ request }) => request?.id ?? null),
    traceparents: events.map(({ request }) => request?.traceparent ?? null),
  };
}

/** Requests that brought these events, each once, the oldest first, as far as they were kept. */
export async function requestsOf(
  queries: Queries,
  numbers: readonly string[],
  limit: number,
): Promise<readonly RequestRef[]> {
  const { rows } = await queries.query<RequestRef>(
    `SELECT request_id AS id, traceparent FROM intake_event
     WHERE number = ANY($1::bigint[]) AND request_id IS NOT NULL
     GROUP BY request_id, traceparent ORDER BY min(number) LIMIT $2`,
    [numbers, limit],
  );
  return rows.map(({ id, traceparent }) => ({ id, traceparent }));
}
