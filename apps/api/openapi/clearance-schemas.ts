import { CLEARED_TYPES } from '../../../libs/domain/clearance/clearance.js';
import { BUDGET_KINDS } from '../../../libs/domain/limits/limit-rule.js';
import { CLEARANCE_STATES } from '../../../libs/ledger/clearances/clearance-record.js';
import { anything, count, figure, list, oneOf, orNull, record, ref, Schema, text, time } from './schema-parts.js';

const plan: Schema = {
  ...record({ type: oneOf(...CLEARED_TYPES) }, 'The step as it was asked for.'),
  additionalProperties: anything,
};

/** Clearances and their refusals, as routes answer them. */
export const CLEARANCE_SCHEMAS: Record<string, Schema> = {
  Reservation: record({ subject: ref('Subject'), limit: oneOf(...BUDGET_KINDS), counted: count, possible: count }),
  PlanSpend: record(
    {
      subject: ref('Subject'),
      limit: oneOf(...BUDGET_KINDS),
      used: count,
      reserved: count,
      asked: count,
      allowed: orNull(figure),
    },
    'What the steps spend of one budget. `reserved` is what all open clearances hold back, this one included.',
  ),
  PlanWarning: record({ code: text, subject: ref('Subject'), detail: text, remedy: text }),
  Clearance: record({
    id: text,
    state: oneOf(...CLEARANCE_STATES),
    'assembly?': text,
    'serial?': text,
    'device?': text,
    station: text,
    operator: text,
    grantedTo: text,
    grantedAt: time,
    expiresAt: time,
    returnedAt: orNull(time),
    returnedBy: orNull(text),
    steps: list(
      record({
        plan,
        device: orNull(text),
        reserves: list(ref('Reservation')),
        usedBy: orNull(record({ source: text, id: text })),
      }),
    ),
    spends: list(ref('PlanSpend')),
    warnings: list(ref('PlanWarning')),
  }),
  ClearanceRefusal: record(
    {
      type: { const: 'urn:heatbook:problem:clearance-refused' },
      title: text,
      status: { const: 409 },
      detail: text,
      'instance?': text,
      reasons: list(
        record({
          code: text,
          subject: anything,
          'limit?': text,
          'used?': count,
          'reserved?': count,
          'asked?': count,
          'allowed?': anything,
          'hold?': text,
          detail: text,
          remedy: text,
        }),
      ),
      warnings: list(ref('PlanWarning')),
    },
    'Problem details of a refused clearance, with every reason and what would mend it.',
  ),
};
