import { refKey } from '../../domain/events/event-order.js';
import { Acceptance, EventInbox, IncomingEvent } from '../ports/book-store.js';

interface Asked {
  readonly event: IncomingEvent;
  /** Its place among all that were asked. */
  readonly index: number;
}

/**
 * Accepts events among which keys may repeat, without the store seeing a key twice in one call: the first of a key is
 * asked for, and the others are answered from its answer.
 */
export async function acceptOnce(store: EventInbox, events: readonly IncomingEvent[]): Promise<readonly Acceptance[]> {
  // Hardly ever does a key repeat, and then there is nothing to put together.
  if (new Set(events.map(refKey)).size === events.length) return store.accept(events);
  const answers: Acceptance[] = [];
  let open: readonly Asked[] = events.map((event, index) => ({ event, index }));
  while (open.length > 0) {
    const groups = byKey(open);
    const given = await store.accept(groups.flatMap(([first]) => first?.event ?? []));
    open = groups.flatMap(([first, ...others], at) => {
      const answer = given[at];
      if (first === undefined || answer === undefined) throw new RangeError('the store did not answer for every event');
      answers[first.index] = answer;
      return others.filter(({ event, index }) => {
        const known = answerAfter(answer, event.contentHash === first.event.contentHash);
        if (known !== undefined) answers[index] = known;
        return known === undefined;
      });
    });
  }
  return answers;
}

function byKey(asked: readonly Asked[]): Asked[][] {
  const groups = new Map<string, Asked[]>();
  for (const one of asked) {
    const key = refKey(one.event);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [one]);
    else group.push(one);
  }
  return [...groups.values()];
}

/** What the answer to the first event of a key says about a later one of that key; undefined where it says nothing. */
function answerAfter(first: Acceptance, isSame: boolean): Acceptance | undefined {
  // What is stored is not the first, so it may be another one.
  if (first === 'conflict') return isSame ? 'conflict' : undefined;
  return isSame ? 'duplicate' : 'conflict';
}
