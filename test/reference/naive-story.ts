import { Call, Conceded, deviceSubject, Granted, Limit, LIMITS, priorOf, Spend, Step, Told } from './gate-words.js';
import { NaiveBench } from './naive-bench.js';

/** Everything that was ever said, told from its beginning. */
export interface Story {
  readonly bench: NaiveBench;
  readonly spent: readonly Spend[];
  readonly calls: readonly Call[];
  /** By clearance and step: the fact that used it. */
  readonly uses: ReadonlyMap<string, number>;
  /** Subjects of heats that nobody had cleared, each as often as it was. */
  readonly uncleared: readonly string[];
}

/** Tells it in the order in which it happened; facts of one moment in the order of their ids. */
export function tell(told: readonly Told[], clearances: readonly Granted[]): Story {
  const bench = new NaiveBench();
  const spent: Spend[] = [];
  const calls: Call[] = [];
  const uses = new Map<string, number>();
  const uncleared: string[] = [];
  const facts = told.filter(({ struck }) => !struck).sort((a, b) => a.at - b.at || a.number - b.number);
  for (const fact of facts) {
    if (isStep(fact.doing) && !isCleared(fact, fact.doing, clearances, uses)) uncleared.push(fact.subject);
    const deed = bench.happen(fact.subject, fact.doing, fact.measured);
    for (const call of deed.contradictions) calls.push({ ...call, fact: fact.number });
    for (const one of deed.spends) {
      spent.push(one);
      const { subject, limit, exempt } = one;
      if (exempt || LIMITS[limit].action === 'warn') continue;
      if (usedOf(spent, subject, limit) > allowedOf(subject, limit, fact.at, fact.conceded)) {
        calls.push({ reason: limit, subject, fact: fact.number });
      }
    }
  }
  return { bench, spent, calls, uses, uncleared };
}

export function usedOf(spent: readonly Spend[], subject: string, limit: Limit): number {
  return priorOf(subject, limit) + spent.filter((one) => one.subject === subject && one.limit === limit).length;
}

/** Of the concessions for a subject the loosest counts, from when it was signed. */
export function allowedOf(subject: string, limit: Limit, at: number, conceded: readonly Conceded[]): number {
  const figures = conceded
    .filter((one) => one.subject === subject && one.limit === limit && one.from <= at)
    .map(({ allowed }) => allowed);
  return Math.max(LIMITS[limit].allowed, ...figures);
}

/** What the unused steps of clearances hold back that are neither given back nor over. */
export function heldBack(clearances: readonly Granted[], uses: Story['uses'], now: number): readonly Spend[] {
  return clearances.flatMap((clearance, number) => (isOpen(clearance, now) ? unused(clearance, number, uses) : []));
}

function isOpen({ returnedAt, expiresAt }: Granted, now: number): boolean {
  return returnedAt === null && now < expiresAt;
}

function unused({ steps }: Granted, number: number, uses: Story['uses']): readonly Spend[] {
  return steps.flatMap(({ reserves }, place) => (uses.has(useKey(number, place)) ? [] : reserves));
}

/** Whether all steps of a clearance are used. */
export function isUsedUp({ steps }: Granted, number: number, uses: Story['uses']): boolean {
  return steps.every((_, place) => uses.has(useKey(number, place)));
}

export function useKey(clearance: number, step: number): string {
  return `${String(clearance)}:${String(step)}`;
}

function isStep(doing: Told['doing']): doing is Step {
  return doing.kind !== 'shipped' && doing.kind !== 'received' && doing.kind !== 'device-in';
}

/** Whether a fact was cleared as it was done; the step of the clearance that it is for is used either way. */
function isCleared(fact: Told, doing: Step, clearances: readonly Granted[], uses: Map<string, number>): boolean {
  const number = fact.names ?? -1;
  const clearance = clearances[number];
  if (clearance === undefined) return false;
  const { grantedAt, expiresAt, returnedAt } = clearance;
  const { began } = fact;
  if (began < grantedAt || began >= expiresAt || (returnedAt !== null && began >= returnedAt)) return false;
  const free = [...clearance.steps.entries()].filter(
    ([place, step]) => !uses.has(useKey(number, place)) && isFor(clearance, step, fact, doing),
  );
  const asPlanned = free.find(([, { plan }]) => isAsPlanned(plan, doing));
  const taken = asPlanned ?? free[0];
  if (taken === undefined) return false;
  uses.set(useKey(number, taken[0]), fact.number);
  return asPlanned !== undefined;
}

/** The same kind of step, at the same place, on the same device. */
function isFor({ subject }: Granted, { plan, device }: Granted['steps'][number], fact: Told, doing: Step): boolean {
  if (plan.kind !== doing.kind) return false;
  if (doing.kind === 'reballing') return device !== null && fact.subject === deviceSubject(device);
  if (fact.subject !== subject) return false;
  if (doing.kind === 'pass' || plan.kind === 'pass' || plan.kind === 'reballing') return true;
  if (plan.site !== doing.site) return false;
  return doing.kind !== 'placement' || doing.device === device;
}

/** With the method and the profile that were planned; what was to be scrapped was not kept. */
function isAsPlanned(plan: Step, doing: Step): boolean {
  if ('method' in plan && 'method' in doing && plan.method !== doing.method) return false;
  if ('fate' in plan && 'fate' in doing && plan.fate === 'scrap' && doing.fate === 'keep') return false;
  return !('profile' in plan) || !('profile' in doing) || plan.profile === doing.profile;
}
