import type { Schemas } from '../api/client.js';
import type { TallyFigures } from '../kit/tally-cells.js';

/** What a budget of a unit or of a device tells. */
export interface BudgetLike {
  readonly subject: { readonly kind: string; readonly refdes?: string; readonly device?: string };
  readonly limit: string;
  readonly used: number;
  readonly reserved: number;
  readonly allowed: number | null;
}

/**
 * How a budget of a site, or of a device, would stand after so many more: what is reserved already with what the plan adds.
 * Undefined where there is no such budget, as of a device that is not chosen yet.
 */
export function afterPlan(
  budgets: readonly BudgetLike[],
  about: { readonly limit: string; readonly refdes?: string; readonly device?: string | null },
  added: number,
): TallyFigures | undefined {
  const budget = budgets.find(({ limit, subject }) => {
    if (limit !== about.limit) return false;
    if (about.device !== undefined) return subject.kind === 'device' && subject.device === about.device;
    return subject.kind === 'site' && subject.refdes === about.refdes;
  });
  if (budget === undefined || budget.allowed === null) return undefined;
  return { used: budget.used, reserved: budget.reserved + added, allowed: budget.allowed };
}

/** The same in words: `1 used, 1 with this, 1 left of 3`. */
export function afterInWords({ used, reserved, allowed }: TallyFigures, added: number): string {
  const left = allowed - used - reserved;
  return [
    `${String(used)} used`,
    ...(reserved > added ? [`${String(reserved - added)} reserved before`] : []),
    `${String(added)} with this`,
    left < 0 ? `${String(-left)} over the ${String(allowed)} allowed` : `${String(left)} left of ${String(allowed)}`,
  ].join(', ');
}

/** How much of one thing the steps of a route spend together. */
export function spentBy(
  steps: readonly Pick<Schemas['PlanStep'], 'spends'>[],
  what: keyof Schemas['PlanStep']['spends'],
): number {
  return steps.reduce((sum, { spends }) => sum + spends[what], 0);
}

/** How lead in the joint is expected to come out: `0.02 wt%`, `not known`. */
export function leadInWords(leadPct: number | null): string {
  if (leadPct === null) return 'not known';
  if (leadPct === 0) return 'none';
  return leadPct < 0.01 ? 'under 0.01 wt%' : `${leadPct.toFixed(2)} wt%`;
}

const CERTAINTIES: Readonly<Record<string, string>> = {
  estimate: 'an estimate',
  'at-most': 'at most: some contacts have no known rate',
  'not-modelled': 'the model ends before',
};

/** Copper left on the pads, µm. */
export function copperInWords(copperLeftUm: number | null): string {
  return copperLeftUm === null ? 'not known' : `${copperLeftUm.toFixed(1)} µm`;
}

/** How sure a figure of pad copper is. */
export function certaintyInWords(certainty: string): string {
  return CERTAINTIES[certainty] ?? certainty;
}

interface LimitLike {
  readonly kind: string;
  readonly allowed: unknown;
  readonly scope?: object;
  readonly effectiveFrom?: string;
}

/**
 * The figure of a kind of limit where the whole house has only that one, in force by now. Undefined where scopes differ: which
 * of them governs is for the service to say.
 */
export function houseFigure(limits: readonly LimitLike[], kind: string, nowMs: number): number | undefined {
  const [only, ...others] = limits.filter((limit) => limit.kind === kind);
  if (only === undefined || others.length > 0 || Object.keys(only.scope ?? {}).length > 0) return undefined;
  if (only.effectiveFrom !== undefined && Date.parse(only.effectiveFrom) > nowMs) return undefined;
  return typeof only.allowed === 'number' ? only.allowed : undefined;
}

/** Cautions that every method has, which are said once. */
export function sharedCautions(rows: readonly { readonly cautions: readonly string[] }[]): readonly string[] {
  const [first, ...others] = rows;
  return (first?.cautions ?? []).filter((one) => others.every(({ cautions }) => cautions.includes(one)));
}

type Reason = Schemas['PlanReason'];

/** What stands against every method, which is said once. */
export function sharedReasons(rows: readonly { readonly reasons: readonly Reason[] }[]): readonly Reason[] {
  const [first, ...others] = rows;
  return (first?.reasons ?? []).filter((reason) => others.every(({ reasons }) => isAmong(reasons, reason)));
}

/** Whether a reason is said already. */
export function isAmong(reasons: readonly Reason[], { code, subject, blocks, detail }: Reason): boolean {
  return reasons.some(
    (one) => one.code === code && one.subject.name === subject.name && one.blocks === blocks && one.detail === detail,
  );
}

/** How far a neighbour is from a site, mm, whichever of the two the design lists as the other's. */
export function gapMm(
  sites: readonly Pick<Schemas['SiteBody'], 'refdes' | 'neighbours'>[],
  refdes: string,
  neighbour: string,
): number | undefined {
  const listed = (at: string, other: string) =>
    sites.find((site) => site.refdes === at)?.neighbours?.find((one) => one.refdes === other)?.gapMm;
  return listed(refdes, neighbour) ?? listed(neighbour, refdes);
}
