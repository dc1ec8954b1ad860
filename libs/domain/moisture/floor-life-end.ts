import { LEAD_TIMES } from '../notices/lead-times.js';
import { presentLife } from './moisture-clock.js';
import { MoistureLedger } from './moisture-ledger.js';
import { MoisturePart } from './moisture-part.js';
import { hasRunOut, MoistureRun, runThrough, usedShare } from './moisture-run.js';
import { HOUR_MS, laterBy } from './moisture-time.js';
import { tableBake } from './table-bake.js';

/** When a running clock comes to its end, and when that is to be warned of. RFC 3339 UTC, whole seconds. */
export interface FloorLifeEnd {
  readonly warnsAt: string;
  readonly endsAt: string;
}

/**
 * Until when a part is known to be within its floor life, if nothing more is told of where it lies; also where that
 * instant has passed. It is read from what is told alone, not as of a time, so it stays the same until something is told
 * that moves it: time of which nobody said where the part lay counts as open at 30 C / 60 %RH, as in `readClock`.
 * @returns null where no known clock runs: the start is unknown, the air uses nothing, or the level has no floor life.
 */
export function floorLifeEnd({ spells }: MoistureLedger, part: MoisturePart): FloorLifeEnd | null {
  const last = spells.at(-1);
  if (last === undefined || part.msl === '1' || part.msl === '6') return null;
  const judgeBake = tableBake(part);
  const run = runThrough(spells, part, last.from, { countUnsaid: true, judgeBake });
  if (run.start.kind === 'unknown') return null;
  if (hasRunOut(run)) return run.ranOutAt === null ? null : ended(run.ranOutAt);
  const life = presentLife(last, part);
  return life.kind === 'hours' ? ending(run, last.from, life.lifeH) : null;
}

function ended(at: string): FloorLifeEnd | null {
  const endsAt = wholeSecond(at, 0);
  return endsAt === null ? null : { warnsAt: endsAt, endsAt };
}

function ending(run: MoistureRun, from: string, lifeH: number): FloorLifeEnd | null {
  const end = laterBy(from, Math.max(0, 1 - usedShare(run)) * lifeH * HOUR_MS);
  if (end === null) return null;
  const leadH = Math.max(LEAD_TIMES.floorLifeLeastH, LEAD_TIMES.floorLifeShare * lifeH);
  const endsAt = wholeSecond(end, 0);
  const warnsAt = wholeSecond(end, -leadH * HOUR_MS);
  return endsAt === null || warnsAt === null ? null : { warnsAt, endsAt };
}

/** To the nearest second, so that sums that were added up in another order still name the same instant. */
function wholeSecond(at: string, byMs: number): string | null {
  const nearest = laterBy(at, byMs + 500);
  return nearest === null ? null : `${nearest.slice(0, 19)}Z`;
}
