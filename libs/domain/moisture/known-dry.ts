import { orderTime } from '../events/event-order.js';
import { Bake, BakeSufficiency } from './bake.js';
import { boardBakePractice } from './board-bake.js';
import { tableBake } from './table-bake.js';
import { MoistureLedger } from './moisture-ledger.js';
import { MoisturePart } from './moisture-part.js';
import { hasRunOut, MoistureRun, RunRules, runThrough } from './moisture-run.js';
import { Spell } from './spell.js';

/*
 * What a heat asks of a moisture clock, answered without reading the whole of it: every heat asks, and nearly always the
 * answer is that nothing is wrong, for which no words and no hours are wanted. It takes a fifth of the time of reading.
 */

/** Whether `readClock` says `expired` (RFC 3339 time). @throws as `readClock`. */
export function isExpired(ledger: MoistureLedger, part: MoisturePart, asOf: string): boolean {
  const at = orderTime(asOf);
  return hasFloorLife(part) && isUsedUp(ledger.spells, part, at);
}

/**
 * Whether `isKnownDry` says so of what `readClock` reads (RFC 3339 time): not expired, and within the floor life by the
 * bakes of the table, or by those that shops give a board. @throws as `readClock`.
 */
export function isDryAt(ledger: MoistureLedger, part: MoisturePart, asOf: string): boolean {
  const at = orderTime(asOf);
  if (!hasFloorLife(part)) return part.msl === '1';
  const { spells } = ledger;
  if (isUsedUp(spells, part, at)) return false;
  if (isWithin(spells, part, at, boardBake(part))) return true;
  // Without a bake it is the same run again.
  return spells.some(({ kind }) => kind === 'baked') && isWithin(spells, part, at, tableBake(part));
}

/** Judges the bakes of a part by what shops give a board, and where that does not do, by the table. */
export function boardBake(part: MoisturePart): RunRules['judgeBake'] {
  const byTable = tableBake(part);
  return (bake: Bake, run: MoistureRun): BakeSufficiency => {
    const practice = boardBakePractice(bake);
    return practice.sufficient ? practice : byTable(bake, run);
  };
}

function hasFloorLife({ msl }: MoisturePart): boolean {
  return msl !== '1' && msl !== '6';
}

/** By told exposure alone, which only air that was told uses up. */
function isUsedUp(spells: readonly Spell[], part: MoisturePart, at: string): boolean {
  if (!spells.some(({ kind }) => kind === 'air' || kind === 'gathered')) return false;
  return hasRunOut(runThrough(spells, part, at, { countUnsaid: false, judgeBake: tableBake(part) }));
}

function isWithin(spells: readonly Spell[], part: MoisturePart, at: string, judgeBake: RunRules['judgeBake']): boolean {
  const run = runThrough(spells, part, at, { countUnsaid: true, judgeBake });
  return run.start.kind !== 'unknown' && !hasRunOut(run);
}
