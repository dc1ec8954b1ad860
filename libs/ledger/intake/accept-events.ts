import { StreamKey } from '../../domain/subject/subject.js';
import { Acceptance, EventInbox, IncomingEvent } from '../ports/book-store.js';
import { Seal } from '../ports/seal.js';
import { RequestRef } from '../requests/request-ref.js';
import { CheckedEvent } from './check-event.js';
import { intakeProblem, Problem } from './problems.js';
import { ReadItem } from './read-events.js';
import { toIncoming } from './to-incoming.js';

export interface IntakeDeps {
  readonly inbox: EventInbox;
  readonly seal: Seal;
  /**
   * Says that these subjects have pending events, and what brought them. Returns at once and never throws: a lost wake-up
   * costs delay only.
   */
  readonly wake: (subjects: readonly StreamKey[], request?: RequestRef) => void;
  /** Told of what was accepted, duplicates left out. Returns at once and never throws. */
  readonly heard?: (events: readonly CheckedEvent[]) => void;
}

export interface Speaker {
  /** Whether the caller may send events of this `source`. */
  readonly maySpeakFor: (source: string) => boolean;
  /** Who the caller is, where it is not known by a key: in words, to begin a sentence with, and what would be right instead. */
  readonly words?: { readonly who: string; readonly instead: string };
  /** The caller's request, where it is to be kept with what it brings. */
  readonly request?: RequestRef | undefined;
}

const BY_KEY = { who: 'Your key', instead: 'Send the event with the key of that station' };

type AcceptedItem =
  | { readonly id: string; readonly state: 'accepted' | 'duplicate' }
  | { readonly id: string | null; readonly state: 'rejected'; readonly problem: Problem };

export interface AcceptedEvents {
  readonly accepted: number;
  readonly duplicates: number;
  readonly rejected: number;
  /** In the order of the request. */
  readonly items: readonly AcceptedItem[];
}

/**
 * Puts what was read into the inbox and answers for each item, once everything accepted is durable. Of two events in
 * one request with the same source and id the first counts, and the second is a duplicate or a conflict.
 * @throws what the inbox throws, InboxFull among it; the request can then be repeated as it is, since whatever part of
 * it did get in will be answered as duplicate.
 */
export async function acceptEvents(
  { inbox, seal, wake, heard }: IntakeDeps,
  items: readonly ReadItem[],
  speaker: Speaker,
): Promise<AcceptedEvents> {
  /** Undefined where the inbox is to answer. */
  const refusals = items.map((item) => refusalOf(item, speaker));
  const asked = items.flatMap((item, index) => (item.ok && refusals[index] === undefined ? [item.event] : []));
  const sent = asked.map((event) => toIncoming(event, seal, speaker.request));
  const answers = sent.length === 0 ? [] : await inbox.accept(sent);
  const answered = sent.map((incoming, index) => answerOf(incoming, answers[index]));
  const fresh = asked.filter((_event, index) => answers[index] === 'accepted');
  if (fresh.length > 0) {
    wake(
      fresh.map(({ subject }) => subject),
      speaker.request,
    );
    heard?.(fresh);
  }
  let next = 0;
  return counted(refusals.flatMap((refusal) => refusal ?? answered[next++] ?? []));
}

function refusalOf(item: ReadItem, { maySpeakFor, words = BY_KEY }: Speaker): AcceptedItem | undefined {
  if (!item.ok) return rejected(item.id, item.problem);
  return maySpeakFor(item.event.source) ? undefined : foreign(item.event, words);
}

function answerOf(event: IncomingEvent, answer: Acceptance | undefined): AcceptedItem {
  if (answer === undefined) throw new RangeError('the inbox gave fewer answers than it was given events');
  return answer === 'conflict' ? conflicting(event) : { id: event.id, state: answer };
}

function foreign({ id, source }: CheckedEvent, { who, instead }: NonNullable<Speaker['words']>): AcceptedItem {
  const detail = `${who} may not speak for ${source}. ${instead}, or mend its source.`;
  return rejected(id, intakeProblem('foreign-source', detail, [{ pointer: '/source', detail }]));
}

function conflicting({ id, source }: IncomingEvent): AcceptedItem {
  const detail =
    `An event "${id}" of ${source} with other content came first, and it stands. If this is another fact, or corrects ` +
    'the first, send it under an id of its own.';
  return rejected(id, intakeProblem('event-conflict', detail, [{ pointer: '/id', detail }]));
}

function rejected(id: string | null, problem: Problem): AcceptedItem {
  return { id, state: 'rejected', problem };
}

function counted(items: readonly AcceptedItem[]): AcceptedEvents {
  const counts = { accepted: 0, duplicate: 0, rejected: 0 };
  for (const { state } of items) counts[state] += 1;
  return { accepted: counts.accepted, duplicates: counts.duplicate, rejected: counts.rejected, items };
}
