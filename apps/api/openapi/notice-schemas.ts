import { NOTICE_KINDS, NOTICE_LEVELS, NOTICE_STATES } from '../../../libs/ledger/notices/notice.js';
import { oneOf, record, Schema, text, time } from './schema-parts.js';

/** Notices as routes answer them. */
export const NOTICE_SCHEMAS: Record<string, Schema> = {
  Notice: record(
    {
      id: text,
      kind: oneOf(...NOTICE_KINDS),
      level: oneOf(...NOTICE_LEVELS),
      state: oneOf(...NOTICE_STATES),
      subject: {
        oneOf: [
          record({ kind: { const: 'unit' }, assembly: text, serial: text }),
          record({ kind: { const: 'site' }, assembly: text, serial: text, refdes: text }),
          record({ kind: { const: 'device' }, device: text }),
          record({ kind: { const: 'station' }, station: text }),
          record({ kind: { const: 'operator' }, operator: text }),
          record({ kind: { const: 'profile' }, name: text, revision: text }),
        ],
      },
      'skill?': text,
      'hold?': text,
      dueAt: time,
      raisedAt: time,
      detail: text,
      remedy: text,
      'acknowledgedBy?': text,
      'acknowledgedAt?': time,
      'note?': text,
      'settledAt?': time,
    },
    'A warning of what runs out, given once for a subject, an instant and a level.',
  ),
};
