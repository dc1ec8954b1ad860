import { orderTime, readableTime } from '../events/event-order.js';
import { BakeSufficiency, requiredBake } from './bake.js';
import { boardBake } from './known-dry.js';
import { airOf, MoistureLedger } from './moisture-ledger.js';
import { MoisturePart } from './moisture-part.js';
import { hasRunOut, MoistureRun, RunStart, runThrough, usedShare } from './moisture-run.js';
import { baseFloorLife, deratedFloorLife, Life } from './floor-life.js';
import { HOUR_MS, laterBy } from './moisture-time.js';
import { Spell } from './spell.js';
import { excessH, tableBake } from './table-bake.js';

/**
 * `unknown`: never known to be dry, or no longer; `dry`: nothing used and nothing running; `paused`: some used, and the
 * present air uses no more; `expired`: told exposure alone has used up the floor life.
 */
export type MoistureState = 'unknown' | 'dry' | 'running' | 'paused' | 'expired';

/** Time in one air, and what it took of the floor life. */
interface ClockBasis {
  readonly hours: number;
  readonly columnC: number;
  readonly columnPct: number;
  /** null: unlimited. */
  readonly lifeH: number | null;
  readonly share: number;
  /** `declared`: the station told the air; `assumed`: 30 C / 60 %RH, or 10 %RH in dry storage, stood in. */
  readonly source: 'declared' | 'assumed';
  readonly notes: readonly string[];
  readonly reference: string;
}

export interface MoistureClock {
  readonly state: MoistureState;
  /** From 0; above 1 where exceeded. Counts unsaid time as open; from an unknown start it lacks what went before. */
  readonly usedShare: number;
  /** By told exposures alone: a lower bound, whatever the start. */
  readonly usedAtLeast: number;
  /** At 30 C / 60 %RH, h; null where unlimited or by the label. */
  readonly floorLifeH: number | null;
  /** In the present air, h; null where unknown or where nothing runs. */
  readonly remainingH: number | null;
  /** Until when it is known to be within its floor life in the present air; of an expired clock, when it ran out. */
  readonly expiresAt: string | null;
  readonly start: RunStart;
  readonly basis: readonly ClockBasis[];
  /** Bakes since the start that were too short for this part: they left the clock as it was. */
  readonly shortBakes: readonly BakeSufficiency[];
  /** The clock is unknown, but the board had the bake that shops give one and has since stayed within the floor life. */
  readonly boardDry: boolean;
  readonly why: string;
  /** What would make it dry; null where nothing is needed. */
  readonly remedy: string | null;
}

const NOTHING = {
  usedShare: 0,
  usedAtLeast: 0,
  floorLifeH: null,
  remainingH: null,
  expiresAt: null,
  basis: [],
  shortBakes: [],
};
const NO_START: RunStart = { kind: 'unknown', at: null };

/** The clock of a device whose part, and so whose level and body, is not set up. */
export function unknownClock(why: string, remedy: string): MoistureClock {
  return { ...NOTHING, state: 'unknown', start: NO_START, boardDry: false, why, remedy };
}

/**
 * How far a part of this kind got through its floor life (J-STD-033) by what the ledger knows, at a time (RFC 3339).
 * The past is counted twice: with told exposures only, which must by themselves use up the floor life before a clock
 * is called expired; and with time of which nobody said where the part lay as open at 30 C / 60 %RH, which must leave
 * some floor life before a clock is called known.
 * @throws RangeError where the time is not RFC 3339 or the body is no size.
 */
export function readClock(ledger: MoistureLedger, part: MoisturePart, asOf: string): MoistureClock {
  const at = orderTime(asOf);
  if (part.msl === '1') {
    const why = 'level 1: its floor life has no end';
    return { ...NOTHING, state: 'dry', start: NO_START, boardDry: false, why, remedy: null };
  }
  if (part.msl === '6') {
    return unknownClock('level 6: good for the time on its label after a bake', 'Bake it and follow its label.');
  }
  const judgeBake = tableBake(part);
  const sure = runThrough(ledger.spells, part, at, { countUnsaid: false, judgeBake });
  const worst = runThrough(ledger.spells, part, at, { countUnsaid: true, judgeBake });
  const life = presentLife(
    ledger.spells.findLast((spell) => spell.from <= at),
    part,
  );
  const state = stateOf(sure, worst, life);
  const base = baseFloorLife(part.msl);
  return {
    state,
    usedShare: usedShare(worst),
    usedAtLeast: usedShare(sure),
    floorLifeH: base.kind === 'hours' ? base.lifeH : null,
    ...ending(state, state === 'expired' ? sure : worst, life, at),
    start: worst.start,
    basis: basisOf(worst),
    shortBakes: worst.shortBakes,
    boardDry: state === 'unknown' && boardDry(ledger, part, at),
    why: reason(state, sure, worst),
    remedy: state === 'unknown' || state === 'expired' ? bakeRemedy(part, worst) : null,
  };
}

function boardDry(ledger: MoistureLedger, part: MoisturePart, at: string): boolean {
  const run = runThrough(ledger.spells, part, at, { countUnsaid: true, judgeBake: boardBake(part) });
  return run.start.kind !== 'unknown' && !hasRunOut(run);
}

/** The floor life of a part in the air of its latest spell. */
export function presentLife(spell: Spell | undefined, part: MoisturePart): Life {
  if (spell?.kind === 'sealed' || spell?.kind === 'baked') return { kind: 'unlimited' };
  const air = spell?.kind === 'air' ? spell.air : airOf('open');
  return deratedFloorLife(part, air.columnC, air.columnPct).life;
}

function stateOf(sure: MoistureRun, worst: MoistureRun, life: Life): MoistureState {
  if (hasRunOut(sure)) return 'expired';
  if (worst.start.kind === 'unknown' || hasRunOut(worst)) return 'unknown';
  if (life.kind === 'hours') return 'running';
  return usedShare(worst) === 0 ? 'dry' : 'paused';
}

function ending(
  state: MoistureState,
  run: MoistureRun,
  life: Life,
  at: string,
): Pick<MoistureClock, 'remainingH' | 'expiresAt'> {
  if (state === 'expired') return { remainingH: 0, expiresAt: run.ranOutAt };
  if (state !== 'running' || life.kind !== 'hours') return { remainingH: null, expiresAt: null };
  const remainingMs = Math.max(0, 1 - usedShare(run)) * life.lifeH * HOUR_MS;
  const roundedMs = Math.round(remainingMs * 1000) / 1000;
  return { remainingH: roundedMs / HOUR_MS, expiresAt: laterBy(at, roundedMs) };
}

function basisOf(run: MoistureRun): ClockBasis[] {
  return [...run.entries.values()].map(({ air, floorLife, ms }) => {
    const lifeH = floorLife.life.kind === 'hours' ? floorLife.life.lifeH : null;
    const outside = air.outOfRange ? ['outside the table (35 C, 90 %RH): its worst column stands in'] : [];
    const unsaid = air.told === 'unsaid' ? ['nobody said where it lay: taken as open at 30 C / 60 %RH'] : [];
    return {
      hours: ms / HOUR_MS,
      columnC: air.columnC,
      columnPct: air.columnPct,
      lifeH,
      share: lifeH === null ? 0 : ms / (lifeH * HOUR_MS),
      source: air.told === 'declared' ? 'declared' : 'assumed',
      notes: [...unsaid, ...outside, ...floorLife.notes],
      reference: floorLife.reference,
    };
  });
}

function reason(state: MoistureState, sure: MoistureRun, worst: MoistureRun): string {
  const short = worst.shortBakes.at(-1);
  const bake = short === undefined ? '' : `; a bake left it as it was: ${short.why.join(', ')}`;
  const notes = worst.notes.map((note) => `; ${note}`).join('');
  const since = startText(worst.start);
  if (state === 'expired')
    return `its floor life was used up ${percent(sure)} by told exposure, ${startText(sure.start)}${bake}`;
  if (state !== 'unknown') return `${percent(worst)} of its floor life used, ${since}${notes}${bake}`;
  if (worst.start.kind === 'unknown')
    return `it is not known to have been dry; ${percent(sure)} used at least${notes}${bake}`;
  return `nobody said where it lay for long enough to use up its floor life, ${since}${notes}${bake}`;
}

function startText(start: RunStart): string {
  if (start.kind === 'unknown') return 'from a start that is not known';
  const when = start.at === null ? '' : ` ${readableTime(start.at)}`;
  const what = { sealed: 'sealed dry', baked: 'baked dry', 'dry-storage': 'dried in storage' }[start.kind];
  return `since it was ${what}${when}`;
}

function percent(run: MoistureRun): string {
  return `${Math.floor(usedShare(run) * 100)} %`;
}

/** The table is for the part alone. */
const BAKE_CAUTION =
  'First make sure that whatever goes in with it (board, connectors, tape or tray) stands that heat; it comes out hot.';

function bakeRemedy(part: MoisturePart, run: MoistureRun): string {
  const need = requiredBake({ ...part, temperatureC: 125, exceededByH: excessH(run) });
  return need.kind === 'hours'
    ? `Bake it at 125 C for ${need.neededH} h (${need.reference}, ${need.row}). ${BAKE_CAUTION}`
    : `Ask the part's maker how to bake it: ${need.why.join(', ')}.`;
}
