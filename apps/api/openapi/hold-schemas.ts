import { DRESSING_METHODS } from '../../../libs/domain/events/station-event.js';
import { LIMIT_KINDS } from '../../../libs/domain/limits/limit-rule.js';
import { DECISIONS } from '../../../libs/ledger/holds/hold-record.js';
import { HOLD_STAGES } from '../../../libs/ledger/holds/hold-stage.js';
import {
  anything,
  count,
  figure,
  flag,
  hash,
  list,
  mapOf,
  oneOf,
  orNull,
  record,
  ref,
  Schema,
  text,
  time,
} from './schema-parts.js';

const unitRef = record({ assembly: text, serial: text });
const decision = oneOf(...DECISIONS);
const allowed: Schema = {
  oneOf: [figure, list(oneOf(...DRESSING_METHODS)), list(record({ pitchMm: figure, max: figure }))],
};

/** What only the house sees of a hold; a customer's answer is without it. */
const deskMembers: Record<string, Schema> = {
  assignee: orNull(text),
  dueAt: orNull(time),
  overdue: flag,
  ageHours: orNull(figure),
  graveness: { type: 'integer', minimum: 1, maximum: 3 },
  decisions: list(decision),
  actions: list(record({ action: oneOf('dispose', 'release', 'comment', 'assign'), allowed: flag, why: orNull(text) })),
  version: text,
};

const optional = (members: Record<string, Schema>): Record<string, Schema> =>
  Object.fromEntries(Object.entries(members).map(([name, schema]) => [`${name}?`, schema]));

const concession: Record<string, Schema> = {
  id: text,
  subject: ref('Subject'),
  limit: oneOf(...LIMIT_KINDS),
  allowed: figure,
  from: time,
  customerReference: text,
  withdrawn: flag,
  signedBy: text,
  withdrawal: orNull(record({ by: text, at: time })),
};

/** Holds, what is done about them, and concessions, as routes answer them. */
export const HOLD_SCHEMAS: Record<string, Schema> = {
  HoldSubject: {
    oneOf: [
      ref('Subject'),
      record({ kind: { const: 'station' }, station: text }),
      record({ kind: { const: 'operator' }, operator: text }),
      record({ kind: { const: 'profile' }, name: text, revision: text }),
    ],
  },
  Signature: record(
    {
      ...{ by: text, printedName: text, 'erased?': { const: true }, 'named?': hash },
      ...{ at: time, meaning: text, contentHash: hash },
    },
    'The printed name is looked up by named, its commitment, and is a pseudonym once it was erased. contentHash is over the canonical form of what is signed, which stands in the ledger entry beside the signature.',
  ),
  Disposition: record({ id: text, decision, note: text, signature: ref('Signature'), approved: flag }),
  Hold: record({ ...holdMembers(), ...optional(deskMembers) }),
  DeskHold: record({ ...holdMembers(), ...deskMembers }),
  ExplainedHold: record({
    ...holdMembers(),
    ...optional(deskMembers),
    touched: flag,
    causes: list(record({ source: text, id: text, time: text, entries: list(ref('Entry')) })),
    rule: orNull(
      record({
        name: text,
        revision: count,
        kind: oneOf(...LIMIT_KINDS),
        allowed,
        unit: text,
        scope: mapOf(text),
        action: oneOf('hold', 'warn'),
        source: text,
        'countPossible?': flag,
        'effectiveFrom?': time,
      }),
    ),
    budgets: list(ref('Budget')),
    otherHolds: list(ref('Hold')),
    concessions: list(ref('Concession')),
    entries: list(ref('Entry')),
    'comments?': list(record({ by: text, at: time, text })),
  }),
  Evidence: record({
    summary: text,
    'used?': figure,
    'allowed?': allowed,
    'unit?': text,
    'limit?': record({ name: text, revision: count, source: text, 'concession?': text }),
    'details?': list(text),
  }),
  Concession: record(concession),
  ExplainedConcession: record({ ...concession, entries: list(ref('Entry')) }),
};

function holdMembers(): Record<string, Schema> {
  return {
    id: text,
    state: oneOf('open', 'released', 'withdrawn'),
    stage: oneOf(...HOLD_STAGES),
    reason: text,
    subject: ref('HoldSubject'),
    raisedAt: time,
    cause: {
      anyOf: [record({ source: text, id: text, time: text }), record({ by: text, note: text }), { type: 'null' }],
    },
    evidence: ref('Evidence'),
    remedy: text,
    unit: orNull(unitRef),
    customer: orNull(text),
    station: orNull(text),
    operator: orNull(text),
    raisedBy: orNull(text),
    decision: orNull(decision),
    dispositions: list(ref('Disposition')),
    release: orNull(
      record({
        by: text,
        at: time,
        note: text,
        signature: orNull(ref('Signature')),
        approved: flag,
        withoutCause: flag,
        'unsigned?': anything,
      }),
    ),
    causeGone: flag,
    containment: orNull(text),
  };
}
