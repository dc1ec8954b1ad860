import { LIMIT_KINDS } from '../../../libs/domain/limits/limit-rule.js';
import { anything, count, figure, flag, list, oneOf, orNull, record, ref, Schema, text, time } from './schema-parts.js';

const standing = record(
  {
    used: orNull(figure),
    allowed: anything,
    breach: oneOf('none', 'warn', 'hold'),
    limit: orNull(record({ name: text, revision: count, source: text, 'concession?': text })),
  },
  'How a subject stands: what is compared, what is allowed, and what that asks for.',
);

const whatIfList = record({
  total: count,
  items: list(
    record({
      subject: ref('Subject'),
      unit: orNull(record({ assembly: text, serial: text })),
      now: standing,
      then: standing,
      hold: orNull(text),
    }),
  ),
});

/** What is answered about limits beside their revisions. */
export const LIMIT_SCHEMAS: Record<string, Schema> = {
  LimitRecheck: record(
    {
      limit: text,
      revision: count,
      effectiveAt: time,
      state: oneOf('waiting', 'running', 'done', 'none'),
      why: orNull(text),
      subjects: count,
      holdsRaised: count,
      holdsWithdrawn: count,
      holdsMarked: count,
      warnings: count,
      startedAt: orNull(time),
      finishedAt: orNull(time),
    },
    'How far what is in the house has been judged anew for a revision of a limit. none: nothing is, and why says why.',
  ),
  WhatIf: record(
    {
      limit: text,
      kind: oneOf(...LIMIT_KINDS),
      revision: count,
      effectiveAt: time,
      assessed: flag,
      'why?': text,
      examined: record({ units: count, looseDevices: count }),
      newlyInBreach: whatIfList,
      noLongerInBreach: whatIfList,
    },
    'How what is in the house would stand under a draft. All are counted; at most 500 of each list are shown.',
  ),
};
