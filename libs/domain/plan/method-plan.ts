import { DRESSING_METHODS, DressingMethod } from '../events/station-event.js';
import { MethodPlanQuestion } from './plan-question.js';
import { PlanReason } from './plan-reason.js';
import { PlanRow, planRows } from './plan-row.js';

/** A way to take the balls off a reused device, with what the whole route would then spend of it. */
interface DeballingOption {
  readonly method: DressingMethod;
  readonly fits: boolean;
  readonly deviceExcursions: number;
  readonly minutes: number;
}

interface MethodPlanRow extends PlanRow {
  readonly cheapest: boolean;
  /** All ways to take the balls off, the chosen one first; empty for a new device. */
  readonly deballingOptions: readonly DeballingOption[];
}

/** What a customer would have to allow so that a method fits. */
interface NeededConcession {
  readonly method: DressingMethod;
  readonly deballing?: DressingMethod;
  /** The limits that stand in the way, each with what it allows and what it would have to. */
  readonly needs: readonly PlanReason[];
}

export interface MethodPlan {
  readonly rows: readonly MethodPlanRow[];
  readonly cheapest: DressingMethod | null;
  readonly why: string;
  /** Only where nothing fits: the method that asks for least. */
  readonly concession?: NeededConcession;
}

const ORDER =
  'order: it fits, somebody is qualified for every step, fewest excursions of device and neighbours, fewest possible ' +
  'ones, no warning on copper or lead, least minutes';

/**
 * A row per dressing method with what its whole route would spend, and which fits at least cost. Cost is first what
 * cannot be bought back (excursions of the device and the neighbours), then minutes. A reused device takes, in each row,
 * the deballing method that costs least. Where no method fits, the plan says what concession the nearest one would need.
 * @throws RangeError where a figure of the question does not fit.
 */
export function methodPlan(question: MethodPlanQuestion): MethodPlan {
  const chosen = DRESSING_METHODS.flatMap((method) => {
    const [best, ...others] = [...planRows(question, method)].sort(byCost);
    return best === undefined ? [] : [{ best, others }];
  });
  const ranked = chosen.map(({ best }) => best).sort(byCost);
  const [first] = ranked;
  const cheapest = first?.fits === true ? first : undefined;
  const rows = chosen.map(({ best, others }) => ({
    ...best,
    cheapest: best === cheapest,
    deballingOptions: [best, ...others].flatMap(deballingOption),
  }));
  if (cheapest !== undefined) return { rows, cheapest: cheapest.method, why: inWords(cheapest) };
  const why = 'No method fits what is left.';
  return first === undefined
    ? { rows, cheapest: null, why }
    : { rows, cheapest: null, why, concession: concessionFor(first) };
}

/** Fewer blocking reasons come first, so that the first of rows that all fail is the one that asks for least. */
function byCost(a: PlanRow, b: PlanRow): number {
  const costs = [a, b].map(costOf);
  const [ofA = [], ofB = []] = costs;
  for (const [i, cost] of ofA.entries()) {
    const difference = cost - (ofB[i] ?? 0);
    if (difference !== 0) return difference;
  }
  return 0;
}

function costOf(row: PlanRow): readonly number[] {
  const { device, neighbours } = row.excursions;
  return [
    row.reasons.filter(({ blocks }) => blocks).length,
    row.missingSkills.length,
    device + neighbours.reduce((sum, { counted }) => sum + counted, 0),
    neighbours.reduce((sum, { possible }) => sum + possible, 0),
    row.reasons.filter(({ code }) => code === 'pad-copper-min' || code === 'joint-lead-max').length,
    row.minutes,
  ];
}

function deballingOption(row: PlanRow): readonly DeballingOption[] {
  if (row.deballing === undefined) return [];
  const { deballing: method, fits, minutes } = row;
  return [{ method, fits, deviceExcursions: row.excursions.device, minutes }];
}

function inWords(row: PlanRow): string {
  const { site, device, neighbours } = row.excursions;
  const beside = neighbours.reduce((sum, { counted }) => sum + counted, 0);
  const balls = row.deballing === undefined ? '' : `, balls off by ${row.deballing}`;
  const spends = `${site} site, ${device} device and ${beside} neighbour excursions, about ${Math.round(row.minutes)} minutes`;
  return `${row.method}${balls}: ${spends} (${ORDER}).`;
}

function concessionFor(row: PlanRow): NeededConcession {
  const needs = row.reasons.filter(({ blocks }) => blocks);
  return { method: row.method, ...(row.deballing !== undefined && { deballing: row.deballing }), needs };
}
