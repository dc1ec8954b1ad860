import type { Schemas } from '../api/client.js';
import { lengthInWords } from '../kit/time-words.js';
import { round } from './site-words.js';

type DeviceClock = Schemas['DeviceMoisture'];
/** What the clocks of a board and of a device have in common. */
export type Clock = Pick<DeviceClock, 'state' | 'remainingH' | 'expiresAt'>;

export interface ClockInWords {
  readonly words: string;
  readonly tone: 'plain' | 'caution' | 'stop' | 'good';
}

const HOUR_MS = 3_600_000;
/** Less floor life than that stands out. */
const SOON_MS = 12 * HOUR_MS;

/** A clock now: how long is left, or since when it has run out. @param nowMs milliseconds since 1970 */
export function clockInWords({ state, remainingH, expiresAt }: Clock, nowMs: number): ClockInWords {
  const leftMs = expiresAt === null ? null : Date.parse(expiresAt) - nowMs;
  if (state === 'unknown') return { words: 'not known', tone: 'caution' };
  if (state === 'dry') return { words: 'dry', tone: 'good' };
  if (state === 'paused') {
    const left = remainingH === null ? '' : `, ${lengthInWords(remainingH * HOUR_MS)} left`;
    return { words: `standing still${left}`, tone: 'plain' };
  }
  // What was still running when the book was asked may have run out since.
  if (state === 'expired' || (leftMs !== null && leftMs <= 0)) {
    return { words: leftMs === null ? 'ran out' : `ran out ${lengthInWords(Math.max(0, -leftMs))} ago`, tone: 'stop' };
  }
  const running = leftMs ?? (remainingH === null ? null : remainingH * HOUR_MS);
  if (running === null) return { words: 'running', tone: 'plain' };
  return { words: `${lengthInWords(running)} left`, tone: running < SOON_MS ? 'caution' : 'plain' };
}

/** What of a floor life is spent: a share in percent, or, far beyond it, how many times over. */
export function usedInWords({ usedShare, usedAtLeast, floorLifeH, start }: DeviceClock): string {
  if (floorLifeH === null) return 'no clock: the part needs none';
  const surely = share(usedAtLeast);
  // What went before an unknown start is in neither figure.
  if (start.kind === 'unknown') return `at least ${surely}, of ${round(floorLifeH, 1)} h`;
  const most = share(usedShare);
  return `${surely === most ? most : `${surely} for certain, ${most} at worst`}, of ${round(floorLifeH, 1)} h`;
}

function share(part: number): string {
  return part > 2 ? `${round(part, 1)} times over` : `${round(part * 100, 0)} %`;
}

const STARTS: Readonly<Record<DeviceClock['start']['kind'], string>> = {
  unknown: 'not known',
  sealed: 'a sealed dry pack',
  baked: 'a bake',
  'dry-storage': 'dry storage that set it back',
};

/** From what the clock counts. */
export function startInWords({ start }: DeviceClock): string {
  return STARTS[start.kind];
}

/** How much of the bar of a floor life is filled: for certain and, beyond it, at worst; from 0 to 1. */
export function filledOf({ usedShare, usedAtLeast }: DeviceClock): { readonly sure: number; readonly atWorst: number } {
  const sure = Math.min(1, Math.max(0, usedAtLeast));
  return { sure, atWorst: Math.min(1, Math.max(sure, usedShare)) - sure };
}
