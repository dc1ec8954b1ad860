import { ROLES } from '../../../libs/ledger/identity/principal.js';
import { ACCESS_KINDS } from '../../../libs/ledger/ports/access-store.js';
import {
  anything,
  count,
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

const eventRef = record({ source: text, id: text });
const parkingReason = record({ code: text, detail: text, remedy: text });

/** What else routes answer with. */
export const ANSWER_SCHEMAS: Record<string, Schema> = {
  Problem: record(
    {
      type: { type: 'string', pattern: '^urn:heatbook:problem:' },
      title: text,
      status: { type: 'integer' },
      detail: text,
      'instance?': text,
      'errors?': list(record({ pointer: text, detail: text })),
    },
    'RFC 9457 problem details. `detail` says what would mend it; pointers are RFC 6901.',
  ),
  SetupRevision: record({ name: text, revision: count, at: time, by: text }),
  NewKey: record({ keyId: text, key: { type: 'string', pattern: '^hbk_' } }),
  LiveKey: record({ keyId: text, issuedAt: time }),
  Acceptance: record({
    accepted: count,
    duplicates: count,
    rejected: count,
    items: list(
      record({
        id: orNull(text),
        state: oneOf('accepted', 'duplicate', 'rejected'),
        'problem?': ref('Problem'),
      }),
    ),
  }),
  EventStatus: record({
    source: text,
    id: text,
    state: oneOf('pending', 'applied', 'parked', 'annulled'),
    subject: text,
    type: text,
    entries: list(record({ subject: text, seq: count, hash })),
    holds: list(ref('Hold')),
    'request?': record({ id: text, traceparent: orNull(text) }),
    'reason?': parkingReason,
  }),
  ParkedEvent: record({ source: text, id: text, type: text, subject: text, reason: parkingReason, parkedAt: time }),
  Annulment: record({
    entry: record({ subject: text, seq: count, hash }),
    at: time,
    holds: list(ref('Hold')),
  }),
  Retried: record({ retried: count }),
  HoldSummary: record({
    open: count,
    oldestRaisedAt: orNull(time),
    byReason: mapOf(count),
    byCustomer: mapOf(count),
    byStation: mapOf(count),
    byAssignee: mapOf(count),
    byStage: record({ new: count, assigned: count, decided: count }),
    overdue: count,
    byAge: record({ underOneDay: count, oneToSevenDays: count, overSevenDays: count }),
  }),
  Entry: record(
    {
      subject: text,
      seq: { type: 'integer', minimum: 1 },
      type: text,
      time,
      recordedAt: time,
      event: orNull(eventRef),
      actor: anything,
      data: anything,
      effects: list(anything),
      rules: count,
      prevHash: hash,
      hash,
      'signer?': record({ named: hash, printedName: text, 'erased?': { const: true } }),
    },
    'An entry of a ledger. `hash` is over the canonical form (RFC 8785) of everything else but `signer`: who signed it.',
  ),
  AccessRecord: record({
    at: time,
    kind: oneOf(...ACCESS_KINDS),
    caller: orNull(text),
    roles: list(oneOf(...ROLES)),
    route: orNull(text),
    subject: orNull(text),
    outcome: text,
  }),
  Live: record({ ok: { const: true } }),
  Readiness: record({ ok: flag, checks: mapOf(oneOf('ok', 'failing')) }),
};
