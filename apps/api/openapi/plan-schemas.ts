import { BUDGET_KINDS } from '../../../libs/domain/limits/limit-rule.js';
import { DRESSING_METHODS } from '../../../libs/domain/events/station-event.js';
import { count, figure, flag, list, oneOf, orNull, record, ref, Schema, text, time } from './schema-parts.js';

const method = oneOf(...DRESSING_METHODS);
const spend = { type: 'integer', enum: [0, 1] };
const subject = record({ kind: oneOf('site', 'device', 'neighbour', 'operator'), name: text });
const figureOrText: Schema = { anyOf: [figure, text] };

/** Method plans, damage rates and classifications, as their routes answer them. */
export const PLAN_SCHEMAS: Record<string, Schema> = {
  Classification: record({
    classTemperature: record({
      classC: figure,
      volumeMm3: figure,
      table: oneOf('Pb-free', 'SnPb'),
      row: text,
      source: oneOf('declared', 'inferred'),
      reference: text,
    }),
    floorLife: record({ kind: text, 'lifeH?': figure }),
    profile: record({
      soakMinC: figure,
      soakMaxC: figure,
      soakMinS: figure,
      soakMaxS: figure,
      riseMaxCPerS: figure,
      fallMaxCPerS: figure,
      liquidusC: figure,
      aboveLiquidusMinS: figure,
      aboveLiquidusMaxS: figure,
      nearClassS: figure,
      from25ToPeakMaxS: figure,
      passes: count,
      use: oneOf('information'),
      reference: text,
    }),
  }),
  PlanReason: record({
    code: { ...text, description: `A limit kind (${BUDGET_KINDS.join(', ')}, …), or what else is worth a word.` },
    subject,
    blocks: flag,
    detail: text,
    remedy: text,
    'asks?': record({ allowed: figureOrText, needed: figureOrText }),
  }),
  PlanStep: record(
    {
      type: text,
      skill: text,
      'refdes?': text,
      'device?': text,
      'method?': method,
      'fate?': oneOf('scrap', 'keep'),
      'profile?': record({ name: text, revision: text }),
      spends: record({ siteReworks: spend, siteDressings: spend, siteExcursions: spend, deviceExcursions: spend }),
      spreads: flag,
      minutes: figure,
      why: text,
    },
    'A step of the route, with what it spends where nobody measures better.',
  ),
  PlanRow: record({
    method,
    'deballing?': method,
    fits: flag,
    cheapest: flag,
    excursions: record({
      site: count,
      device: count,
      neighbours: list(record({ refdes: text, counted: count, possible: count, fits: flag })),
    }),
    copperLeftUm: orNull(figure),
    copperCertainty: text,
    leadPct: orNull(figure),
    passes: count,
    minutes: figure,
    skill: text,
    qualifiedOperators: list(text),
    missingSkills: list(text),
    reasons: list(ref('PlanReason')),
    cautions: list(text),
    facts: list(record({ text, source: text })),
    steps: list(ref('PlanStep')),
    why: list(text),
    deballingOptions: list(record({ method, fits: flag, deviceExcursions: count, minutes: figure })),
  }),
  DamageRates: record({
    from: time,
    to: time,
    complete: { ...flag, description: 'False: there was more work than one answer reckons with; narrow the range.' },
    houseRate: orNull(figure),
    houseRateFrom: oneOf('given', 'all rows'),
    rates: list(
      record({
        by: oneOf('operator', 'method', 'station'),
        name: text,
        sites: count,
        damaged: count,
        rate: figure,
        interval: record({ low: figure, high: figure }),
        verdict: oneOf('above', 'within', 'below', 'too-few'),
        why: text,
      }),
    ),
  }),
  MethodPlan: record({
    assembly: text,
    serial: text,
    refdes: text,
    goal: oneOf('new-device', 'reuse-device'),
    rows: list(ref('PlanRow')),
    cheapest: orNull(method),
    why: text,
    'concession?': record({ method, 'deballing?': method, needs: list(ref('PlanReason')) }),
  }),
};
