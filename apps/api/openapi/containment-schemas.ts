import { anything, count, flag, list, mapOf, oneOf, orNull, record, ref, Schema, text, time } from './schema-parts.js';

const touchedMembers: Record<string, Schema> = {
  key: text,
  subject: ref('Subject'),
  customer: orNull(text),
  state: oneOf('expected', 'in-house', 'shipped', 'scrapped', 'loose'),
  firstAt: time,
  lastAt: time,
  touches: count,
  entries: list(
    record({
      ledger: text,
      seq: { type: 'integer', minimum: 1 },
      type: text,
      at: time,
      event: record({ source: text, id: text }),
    }),
  ),
  through: list(text),
};

/** What routes of containments answer with. */
export const CONTAINMENT_SCHEMAS: Record<string, Schema> = {
  SuspectCause: record(
    {
      'station?': text,
      'operator?': text,
      'profile?': record({ name: text, 'revision?': text }),
      'device?': text,
      'part?': text,
      'lot?': text,
      'solderAlloy?': text,
      'limit?': text,
      from: time,
      to: time,
    },
    'Exactly one of its members besides `from` (inclusive) and `to` (exclusive).',
  ),
  DryRun: record({
    cause: ref('SuspectCause'),
    units: count,
    devices: count,
    byCustomer: mapOf(count),
    byState: mapOf(count),
    firstAt: orNull(time),
    lastAt: orNull(time),
    items: list(
      record({ ...touchedMembers, holds: list(record({ id: text, reason: text, containment: orNull(text) })) }),
    ),
    nextCursor: orNull(text),
  }),
  Containment: record({
    id: text,
    cause: ref('SuspectCause'),
    holdCause: flag,
    causeHolds: list(text),
    state: oneOf('finding', 'holding', 'done', 'failed'),
    progress: record({ found: orNull(count), held: count }),
    failure: orNull(text),
    rounds: list(
      record({
        note: text,
        held: orNull(count),
        signed: anything,
        signature: ref('Signature'),
      }),
    ),
    requestedAt: time,
    finishedAt: orNull(time),
  }),
  ContainmentNow: {
    allOf: [
      ref('Containment'),
      record({
        missed: {
          ...orNull(count),
          description: 'Reached as the book stands now, and not held. Null until it is done.',
        },
      }),
    ],
  },
  Contained: record({ ...touchedMembers, hold: text, round: { type: 'integer', minimum: 1 } }),
};
