/** Names an event, as the API does. */
export interface EventName {
  readonly source: string;
  readonly id: string;
}

/** What became of an event that was tried again. */
export type RetryOutcome =
  | { readonly state: 'asked' | 'applied' | 'annulled' }
  | { readonly state: 'parked'; readonly detail: string; readonly remedy: string }
  /** It was no longer parked when it was asked for. */
  | { readonly state: 'gone' }
  /** It is still pending, and nobody waits any longer. */
  | { readonly state: 'pending' }
  | { readonly state: 'failed'; readonly error: unknown };

export interface EventNow {
  readonly state: 'pending' | 'applied' | 'parked' | 'annulled';
  readonly reason?: { readonly detail: string; readonly remedy: string };
}

export interface RetryAsking {
  /** Asks for another try. @returns how many events are tried again: none, where it is not parked */
  retry(event: EventName): Promise<number>;
  now(event: EventName): Promise<EventNow>;
  /** Waits a little before it is asked again. */
  pause(): Promise<void>;
}

/** A fold takes well under a second; after so many looks it is left to the list. */
const MOST_LOOKS = 20;

export function eventKey({ source, id }: EventName): string {
  return `${source} ${id}`;
}

/**
 * Tries events again, one after another, and tells of each what becomes of it: all are asked for first, so that they are folded
 * while one looks. A failure of one keeps none of the others back.
 */
export async function retryEvents(
  events: readonly EventName[],
  asking: RetryAsking,
  tell: (event: EventName, outcome: RetryOutcome) => void,
): Promise<void> {
  const waiting: EventName[] = [];
  for (const event of events) {
    tell(event, { state: 'asked' });
    try {
      if ((await asking.retry(event)) > 0) waiting.push(event);
      else tell(event, { state: 'gone' });
    } catch (error) {
      tell(event, { state: 'failed', error });
    }
  }
  for (const event of waiting) tell(event, await settled(event, asking));
}

async function settled(event: EventName, asking: RetryAsking): Promise<RetryOutcome> {
  try {
    for (let look = 0; look < MOST_LOOKS; look += 1) {
      const { state, reason } = await asking.now(event);
      if (state === 'parked') return { state, detail: reason?.detail ?? '', remedy: reason?.remedy ?? '' };
      if (state !== 'pending') return { state };
      await asking.pause();
    }
    return { state: 'pending' };
  } catch (error) {
    return { state: 'failed', error };
  }
}
