import { BUDGET_KINDS } from '../../../libs/domain/limits/limit-rule.js';
import { DRESSING_METHODS } from '../../../libs/domain/events/station-event.js';
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
const place = record({ assembly: text, serial: text, refdes: text });
const basis = oneOf('measured', 'declared', 'inferred', 'assumed', 'unknown');
const eventRef = record({ source: text, id: text });
const moistureState = oneOf('unknown', 'dry', 'running', 'paused', 'expired');

/** Units, devices and what is counted on them, as routes answer them. */
export const SUBJECT_SCHEMAS: Record<string, Schema> = {
  Subject: {
    oneOf: [
      record({ kind: { const: 'unit' }, assembly: text, serial: text }),
      record({ kind: { const: 'site' }, assembly: text, serial: text, refdes: text }),
      record({ kind: { const: 'device' }, device: text }),
    ],
  },
  Count: record(
    { event: eventRef, at: text, basis, why: text, 'unit?': text, 'refdes?': text, 'verdict?': anything },
    'One thing counted, with the grounds for counting it.',
  ),
  Budget: record(
    {
      subject: ref('Subject'),
      limit: oneOf(...BUDGET_KINDS),
      used: count,
      possible: count,
      reserved: count,
      allowed: orNull(figure),
      remaining: orNull(figure),
      basis,
      inputs: record({ prior: record({ count, basis }), measured: count, declared: count, inferred: count }),
      rule: orNull(
        record({ name: text, revision: count, source: text, action: oneOf('hold', 'warn'), countPossible: flag }),
      ),
    },
    'What a subject has spent of one limit and what is left, with the grounds for each figure.',
  ),
  Warning: record({
    code: text,
    subject: ref('Subject'),
    detail: text,
    remedy: text,
    count,
    firstAt: text,
    lastAt: text,
  }),
  DeviceMoisture: record({
    state: moistureState,
    usedShare: figure,
    usedAtLeast: figure,
    floorLifeH: orNull(figure),
    remainingH: orNull(figure),
    expiresAt: orNull(time),
    start: record({ kind: oneOf('unknown', 'sealed', 'baked', 'dry-storage'), at: orNull(time) }),
    basis: list(
      record({
        hours: figure,
        columnC: figure,
        columnPct: figure,
        lifeH: orNull(figure),
        share: figure,
        source: oneOf('declared', 'assumed'),
        notes: list(text),
        reference: text,
      }),
    ),
    shortBakes: list(
      record({ sufficient: flag, bakedH: figure, neededH: orNull(figure), why: list(text), reference: text }),
    ),
    boardDry: flag,
    why: text,
    remedy: orNull(text),
  }),
  UnitMoisture: record({
    state: moistureState,
    governing: orNull(record({ device: text, clock: ref('DeviceMoisture') })),
    remainingH: orNull(figure),
    expiresAt: orNull(time),
    unknown: list(text),
    expired: list(text),
    boardDry: flag,
    why: text,
    remedy: orNull(text),
  }),
  Site: record({
    refdes: text,
    device: orNull(text),
    disputed: flag,
    part: orNull(text),
    side: orNull(oneOf('top', 'bottom')),
    condition: oneOf('fitted', 'bare', 'dressed', 'to-dress', 'to-clean', 'damaged', 'to-rework'),
    alloys: list(text),
    passes: count,
    remnant: record({ alloy: text, filmUm: orNull(figure) }),
    lead: record({
      estimate: orNull(
        record({
          kind: oneOf('estimate'),
          leadPct: figure,
          leadMg: figure,
          jointMg: figure,
          parts: list(record({ name: text, alloy: text, massMg: figure, leadFraction: figure, leadMg: figure })),
          basis: oneOf('inferred', 'assumed'),
          why: list(text),
          source: text,
        }),
      ),
      measuredPct: orNull(figure),
    }),
    copper: orNull(
      record({
        leftUm: orNull(figure),
        startUm: figure,
        lostUm: figure,
        certainty: oneOf('estimate', 'at-most', 'not-modelled'),
        basis: oneOf('assumed', 'measured'),
        rows: list(
          record({
            what: text,
            lostUm: orNull(figure),
            leftUm: figure,
            basis: oneOf('assumed', 'measured'),
            why: list(text),
            source: text,
          }),
        ),
        'stops?': record({ reason: text, detail: text }),
        source: text,
      }),
    ),
    inspected: mapOf(oneOf('pass', 'fail')),
  }),
  UnitRow: record({ assembly: text, serial: text, customer: text, state: text, openHolds: count, changedAt: time }),
  Unit: record({
    assembly: text,
    serial: text,
    customer: orNull(text),
    state: oneOf('expected', 'in-house', 'shipped', 'scrapped'),
    workOrder: orNull(text),
    complaint: orNull(text),
    received: flag,
    headHash: hash,
    changedAt: orNull(time),
    sites: list(ref('Site')),
    budgets: list(ref('Budget')),
    holds: list(ref('Hold')),
    warnings: list(ref('Warning')),
    moisture: ref('UnitMoisture'),
  }),
  Device: record({
    device: text,
    part: orNull(text),
    status: oneOf('loose', 'mounted', 'scrapped', 'renamed'),
    knownAs: orNull(text),
    place: orNull(place),
    lot: orNull(text),
    dateCode: orNull(text),
    owner: orNull(text),
    balls: record({ state: oneOf('as-made', 'none', 'reballed'), 'alloy?': text }),
    budgets: list(ref('Budget')),
    holds: list(ref('Hold')),
    warnings: list(ref('Warning')),
    moisture: ref('DeviceMoisture'),
    looseBake: record({ usedH: figure, allowedH: figure, remainingH: figure, exceeded: flag, reference: text }),
    unitsSeen: list(text),
    headHash: hash,
    counted: list(ref('Count')),
    possible: list(ref('Count')),
  }),
  Hold: record(holdMembers()),
  ExplainedHold: record({
    ...holdMembers(),
    touched: flag,
    causes: list(record({ source: text, id: text, time: text, entries: list(ref('Entry')) })),
  }),
  Evidence: record({
    summary: text,
    'used?': figure,
    'allowed?': {
      oneOf: [figure, list(oneOf(...DRESSING_METHODS)), list(record({ pitchMm: figure, max: figure }))],
    },
    'unit?': text,
    'limit?': record({ name: text, revision: count, source: text }),
    'details?': list(text),
  }),
};

function holdMembers(): Record<string, Schema> {
  return {
    id: text,
    state: oneOf('open', 'released', 'withdrawn'),
    reason: text,
    subject: ref('Subject'),
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
    release: orNull(record({ by: text, at: time, note: text })),
    causeGone: flag,
  };
}
