import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import { eventKey, retryEvents, type RetryAsking, type RetryOutcome } from './retry-events.js';

type ParkedEvent = Schemas['ParkedEvent'];

/** An event that was tried again on this page, and what became of it. */
export interface Retried {
  readonly event: ParkedEvent;
  readonly outcome: RetryOutcome;
}

export interface Retries {
  /** The last one first. */
  readonly done: readonly Retried[];
  readonly busy: boolean;
  retry(events: readonly ParkedEvent[]): void;
}

const PAUSE_MS = 500;
/** Outcomes beyond these are not kept: the list of what is parked says what is left. */
const MOST_KEPT = 200;

const ASKING: RetryAsking = {
  retry: async ({ source, id }) => (await dataOf(api.POST('/v1/events/retries', { body: { source, id } }))).retried,
  now: (event) => dataOf(api.GET('/v1/events', { params: { query: { source: event.source, id: event.id } } })),
  pause: () =>
    new Promise((resolve) => {
      setTimeout(resolve, PAUSE_MS);
    }),
};

/** Tries parked events again, and keeps what became of each for as long as the page is shown. */
export function useRetries(): Retries {
  const queries = useQueryClient();
  const [done, setDone] = useState<readonly Retried[]>([]);
  const [busy, setBusy] = useState(false);
  const run = async (events: readonly ParkedEvent[]) => {
    const byKey = new Map(events.map((event) => [eventKey(event), event]));
    setBusy(true);
    await retryEvents(events, ASKING, (name, outcome) => {
      const event = byKey.get(eventKey(name));
      if (event !== undefined) setDone((before) => noted(before, { event, outcome }));
    });
    setBusy(false);
    for (const queryKey of [keys.parked, keys.queue, keys.stations, ['holds'], ['hold-summary'], ['hold']])
      void queries.invalidateQueries({ queryKey });
  };
  return { done, busy, retry: (events) => void run(events) };
}

function noted(before: readonly Retried[], retried: Retried): readonly Retried[] {
  const key = eventKey(retried.event);
  const others = before.filter(({ event }) => eventKey(event) !== key);
  return [retried, ...others].slice(0, MOST_KEPT);
}
