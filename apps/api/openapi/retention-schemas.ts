import { anything, count, oneOf, orNull, record, ref, Schema, text, time } from './schema-parts.js';

const act: Record<string, Schema> = { note: text, signed: anything, signature: ref('Signature') };

/** How long things are kept, and what must not be removed, as routes answer it. */
export const RETENTION_SCHEMAS: Record<string, Schema> = {
  DueUnit: record({
    assembly: text,
    serial: text,
    state: oneOf('shipped', 'scrapped'),
    customer: text,
    keepYears: count,
    leftAt: time,
    keptUntil: time,
  }),
  LegalHold: record(
    {
      id: text,
      state: oneOf('in-force', 'lifted'),
      scope: {
        oneOf: [
          record({ customer: text }),
          record({ assembly: text }),
          record({ unit: record({ assembly: text, serial: text }) }),
        ],
      },
      reference: text,
      ...act,
      lift: orNull(record(act)),
    },
    'Who set or lifted it, and when, is said by its signatures; each is over `signed` beside it.',
  ),
};
