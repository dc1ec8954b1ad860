import { orderTime } from '../events/event-order.js';
import { Bake, BakeSufficiency } from './bake.js';
import { deratedFloorLife, FloorLife } from './floor-life.js';
import { MoisturePart } from './moisture-part.js';
import { HOUR_MS, laterBy, millisecondsBetween, shelfEndsAt } from './moisture-time.js';
import { Air, airKey, Spell } from './spell.js';

/** Time in one air since the last reset, and what share of the floor life it took. */
interface RunEntry {
  readonly air: Air;
  readonly floorLife: FloorLife;
  ms: number;
}

export interface RunStart {
  readonly kind: 'unknown' | 'sealed' | 'baked' | 'dry-storage';
  /** Normalised time; null where it was never known. */
  readonly at: string | null;
}

/** How far one part got through its floor life. */
export interface MoistureRun {
  start: RunStart;
  entries: Map<string, RunEntry>;
  /** Hours past the end of the floor life, in ms; time in air of 5 %RH or less is not counted. */
  exceededMs: number;
  /** When the floor life ran out, as a normalised time; null where it did not, or where that is no longer known. */
  ranOutAt: string | null;
  openMs: number;
  /** Dry storage without a break up to now. */
  dryMs: number;
  /** Was in air hotter than 30 C or wetter than 60 %RH. */
  harsh: boolean;
  /** Bakes since the start that were not enough. */
  shortBakes: BakeSufficiency[];
  notes: string[];
}

export interface RunRules {
  /** Whether time of which nobody said where the part lay counts, as open at 30 C / 60 %RH. */
  readonly countUnsaid: boolean;
  readonly judgeBake: (bake: Bake, run: MoistureRun) => BakeSufficiency;
}

interface DryReset {
  readonly dryPct: number;
  readonly openMaxMs: number;
  readonly factor: number;
}

/** Rounding of sums must not hide that a floor life has run out; it is a few ms at most. */
const FULL_SHARE = 1 - 1e-9;
const UNSAID_AIR: Air = { columnC: 30, columnPct: 60, told: 'unsaid', outOfRange: false };

/** Follows a part of level 2 to 5a through spells up to a normalised time; spells that begin later are not seen. */
export function runThrough(spells: readonly Spell[], part: MoisturePart, asOf: string, rules: RunRules): MoistureRun {
  const run = freshRun({ kind: 'unknown', at: null });
  let last: Spell | undefined;
  for (const spell of spells) {
    if (spell.from > asOf) continue;
    if (last !== undefined) follow(run, last, spell.from, part, rules);
    last = spell;
  }
  if (last !== undefined) follow(run, last, asOf, part, rules);
  return run;
}

/** Share of the floor life used since the start; above 1 where it is exceeded. Never NaN. */
export function usedShare(run: MoistureRun): number {
  let share = 0;
  for (const { floorLife, ms } of run.entries.values()) {
    if (floorLife.life.kind === 'hours') share += ms / (floorLife.life.lifeH * HOUR_MS);
  }
  return share;
}

export function hasRunOut(run: MoistureRun): boolean {
  return usedShare(run) >= FULL_SHARE;
}

function freshRun(start: RunStart): MoistureRun {
  const none = { exceededMs: 0, ranOutAt: null, openMs: 0, dryMs: 0, harsh: false };
  return { start, entries: new Map(), ...none, shortBakes: [], notes: [] };
}

function follow(run: MoistureRun, spell: Spell, until: string, part: MoisturePart, rules: RunRules): void {
  switch (spell.kind) {
    case 'sealed':
      Object.assign(run, freshRun({ kind: 'sealed', at: spell.from }));
      expireShelf(run, spell.from, until);
      break;
    case 'baked':
      if (orderTime(spell.bake.endedAt) <= until) bake(run, spell.bake, rules);
      break;
    case 'unsaid':
      if (rules.countUnsaid) lie(run, part, UNSAID_AIR, millisecondsBetween(spell.from, until), until);
      break;
    case 'air':
      lie(run, part, spell.air, millisecondsBetween(spell.from, until), until);
      if (spell.storage === 'dry-pack') expireShelf(run, spell.from, until);
      break;
    case 'gathered':
      // Dry air comes first in the entries: open air after it ends the dry stretch, so that no reset is made up.
      for (const { air, ms: inAirMs } of spell.entries) lie(run, part, air, inAirMs, null);
      if (rules.countUnsaid && spell.unsaidMs > 0) lie(run, part, UNSAID_AIR, spell.unsaidMs, null);
      break;
  }
}

function expireShelf(run: MoistureRun, sealedAt: string, until: string): void {
  const end = shelfEndsAt(sealedAt);
  if (until <= end) return;
  run.start = { kind: 'unknown', at: null };
  run.notes.push(`the shelf life of its dry pack ended ${end.slice(0, 10)} (12 months; J-STD-033, published)`);
}

function bake(run: MoistureRun, told: Bake, rules: RunRules): void {
  const verdict = rules.judgeBake(told, run);
  if (verdict.sufficient) Object.assign(run, freshRun({ kind: 'baked', at: orderTime(told.endedAt) }));
  else run.shortBakes.push(verdict);
}

function lie(run: MoistureRun, part: MoisturePart, air: Air, ms: number, until: string | null): void {
  const reset = dryReset(part);
  const wasOut = hasRunOut(run);
  const { floorLife } = lieLonger(run, part, air, ms);
  if (air.columnPct > reset.dryPct) {
    run.openMs += ms;
    run.dryMs = 0;
    run.harsh ||= air.columnC > 30 || air.columnPct > 60;
  } else run.dryMs += ms;
  if (wasOut) run.exceededMs += air.columnPct <= 5 ? 0 : ms;
  else if (hasRunOut(run)) runOut(run, floorLife, ms, until);
  else resetByDryStorage(run, reset, until);
}

function lieLonger(run: MoistureRun, part: MoisturePart, air: Air, ms: number): RunEntry {
  const key = airKey(air);
  const known = run.entries.get(key);
  if (known !== undefined) {
    known.ms += ms;
    return known;
  }
  const entry = { air, floorLife: deratedFloorLife(part, air.columnC, air.columnPct), ms };
  run.entries.set(key, entry);
  return entry;
}

function runOut(run: MoistureRun, { life }: FloorLife, ms: number, until: string | null): void {
  const overMs = life.kind === 'hours' ? Math.max(0, usedShare(run) - 1) * life.lifeH * HOUR_MS : 0;
  // In gathered spells the worst air may have come first, so all of their time may lie past the end.
  run.exceededMs = until === null ? ms : Math.min(ms, overMs);
  run.ranOutAt = until === null ? null : laterBy(until, -run.exceededMs);
}

/**
 * Short exposure undone by dry storage, J-STD-033, from memory: levels 2, 2a, 3 open for up to 12 h, by five times as
 * long at 10 %RH or less; levels 4, 5, 5a open for up to 8 h, by ten times as long at 5 %RH or less. Only from a known
 * start, and only where the air was no worse than 30 C / 60 %RH (the condition is from memory too).
 */
function resetByDryStorage(run: MoistureRun, reset: DryReset, until: string | null): void {
  if (run.start.kind === 'unknown' || run.harsh || run.openMs === 0 || run.openMs > reset.openMaxMs) return;
  if (run.dryMs < reset.factor * run.openMs) return;
  const at = until === null ? null : laterBy(until, reset.factor * run.openMs - run.dryMs);
  Object.assign(run, freshRun({ kind: 'dry-storage', at }));
}

const SENSITIVE_RESET: DryReset = { dryPct: 5, openMaxMs: 8 * HOUR_MS, factor: 10 };
const OTHER_RESET: DryReset = { dryPct: 10, openMaxMs: 12 * HOUR_MS, factor: 5 };

function dryReset({ msl }: MoisturePart): DryReset {
  return msl === '4' || msl === '5' || msl === '5a' ? SENSITIVE_RESET : OTHER_RESET;
}
