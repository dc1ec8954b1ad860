import { count, hash, list, oneOf, orNull, record, ref, Schema, text, time } from './schema-parts.js';

/** What routes of archives answer with. */
export const ARCHIVE_SCHEMAS: Record<string, Schema> = {
  Archive: record({
    id: text,
    state: oneOf('waiting', 'running', 'done', 'failed', 'cancelled'),
    wanted: { ...count, description: 'Units asked for, each once.' },
    done: { ...count, description: 'Units that are written or found missing.' },
    missingCount: count,
    bytes: { ...count, description: 'So far; once it is done, as it is downloaded.' },
    formats: list(text),
    since: list({ type: 'integer', minimum: 1 }),
    manifestHash: orNull(hash),
    by: text,
    customer: orNull({ ...text, description: 'Whose view it shows; null for the house’s own.' }),
    error: orNull({ ...text, description: 'Why the last attempt came to nothing; while it waits, it is tried again.' }),
    createdAt: time,
    finishedAt: orNull(time),
    expiresAt: orNull({ ...time, description: 'When it is removed.' }),
  }),
  ArchiveNow: {
    allOf: [
      ref('Archive'),
      record({
        missing: {
          ...list(record({ assembly: text, serial: text })),
          description: 'Units that are unknown, or not yours to see: which of the two is not told.',
        },
      }),
    ],
  },
};
