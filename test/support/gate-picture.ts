import { emptyWorld, World } from '../../libs/domain/book/state.js';
import { budgetView } from '../../libs/ledger/views/budget-view.js';
import { allBudgets, DEVICES, deviceSubject, UNITS } from '../reference/gate-words.js';
import { NaiveGate } from '../reference/naive-gate.js';
import { useKey } from '../reference/naive-story.js';
import { BookHarness } from './book-harness.js';
import { eventId } from './gate-events.js';
import { isAboutShipment, subjectOf, textOf } from './gate-subjects.js';

/** What can be seen of a gate, so that two can be compared. */
export interface GatePicture {
  readonly budgets: readonly string[];
  /** Open holds, as `reason subject`. */
  readonly holds: readonly string[];
  /** By clearance and step: the event that used it. */
  readonly uses: readonly string[];
  /** How often a unit or device was warned about heats that nobody had cleared. */
  readonly uncleared: readonly string[];
}

export function naivePicture(naive: NaiveGate, now: number): GatePicture {
  const story = naive.story();
  const line = (subject: string): string => {
    const count = story.uncleared.filter((one) => one === subject).length;
    return `${subject} ${String(count)}`;
  };
  return {
    budgets: allBudgets().map(({ subject, limit }) => {
      const { used, reserved, allowed } = naive.figures(story, now, subject, limit);
      return figures(subject, limit, used, reserved, allowed);
    }),
    holds: naive.desk
      .open()
      .map(({ reason, subject }) => `${reason} ${subject}`)
      .sort(),
    uses: naive.clearances.flatMap(({ steps }, number) =>
      steps.map((_, place) => {
        const fact = story.uses.get(useKey(number, place));
        return used(number, place, fact === undefined ? null : eventId(fact));
      }),
    ),
    uncleared: ledgers().map(line),
  };
}

/** Reads the same from the book, as its readers would: by what is stored and by the clearances that are open. */
export async function bookPicture(
  { reads, deps }: BookHarness,
  clearances: readonly string[],
  now: string,
): Promise<GatePicture> {
  await deps.setup.catchUp();
  const rules = deps.setup.latest();
  const world = emptyWorld();
  const uncleared: string[] = [];
  const open = new Map<string, World['clearances']>();
  for (const key of ledgers()) {
    const state = (await reads.subject(key))?.state;
    if (state?.kind === 'unit') world.units.set(key, state.state);
    if (state?.kind === 'device') world.devices.set(state.state.device, state.state);
    const warnings = state?.kind === 'unit' || state?.kind === 'device' ? state.state.warnings : [];
    uncleared.push(`${key} ${String(warnings.find(({ code }) => code === 'clearance-required')?.count ?? 0)}`);
    open.set(key, new Map((await reads.openClearances([key], now)).map((one) => [one.id, one])));
  }
  const budgets = allBudgets().map(({ subject, limit }) => {
    const own = { ...world, clearances: open.get(subject.split('#')[0] ?? '') ?? new Map<string, never>() };
    const { used: spent, reserved, allowed } = budgetView(own, rules, subjectOf(subject), limit, now);
    return figures(subject, limit, spent, reserved, allowed);
  });
  const page = await reads.clearanceList({}, now, { limit: 500, cursor: null });
  const known = new Map(page.items.map((one) => [one.id, one]));
  const uses = clearances.flatMap((id, number) =>
    (known.get(id)?.steps ?? []).map(({ use }, place) => used(number, place, use === null ? null : use.id)),
  );
  const { items } = await reads.holds({ state: 'open' }, { limit: 500, cursor: null });
  const holds = items
    .filter((hold) => !isAboutShipment(hold))
    .map(({ reason, subject }) => `${reason} ${textOf(subject)}`)
    .sort();
  return { budgets, holds, uses, uncleared };
}

function ledgers(): readonly string[] {
  return [...UNITS, ...Object.keys(DEVICES).map(deviceSubject)];
}

function figures(subject: string, limit: string, used: number, reserved: number, allowed: number | null): string {
  return `${limit} ${subject} used ${String(used)} reserved ${String(reserved)} allowed ${String(allowed)}`;
}

function used(clearance: number, step: number, event: string | null): string {
  return `clearance ${String(clearance)} step ${String(step)}: ${event ?? 'unused'}`;
}
