import { compareText } from '../events/event-order.js';
import { MoistureClock, MoistureState } from './moisture-clock.js';

export interface DeviceClock {
  readonly device: string;
  readonly clock: MoistureClock;
}

/** The moisture of a unit: that of its most sensitive device. */
export interface UnitClock {
  readonly state: MoistureState;
  /** The worst device whose clock is known: expired first, then the soonest to expire, then the most used. */
  readonly governing: DeviceClock | null;
  readonly remainingH: number | null;
  readonly expiresAt: string | null;
  /** Devices whose clocks are unknown, and those that have expired; by name. */
  readonly unknown: readonly string[];
  readonly expired: readonly string[];
  /** Every device is known to be dry, or was on the board when it had the bake that shops give one. */
  readonly boardDry: boolean;
  readonly why: string;
  readonly remedy: string | null;
}

/**
 * The clock of a unit from those of the devices aboard, in any order. An unknown device makes the unit unknown, not
 * bad: only a device that is known to have expired makes it expired. What is known of the others is still told.
 */
export function unitClock(devices: readonly DeviceClock[]): UnitClock {
  const byName = [...devices].sort((a, b) => compareText(a.device, b.device));
  const known = byName.filter(({ clock }) => clock.state !== 'unknown').sort((a, b) => worstFirst(a.clock, b.clock));
  const unknown = byName.filter(({ clock }) => clock.state === 'unknown');
  const governing = known[0] ?? null;
  const told = governing?.clock.state === 'expired' ? governing : (unknown[0] ?? governing);
  return {
    state: told?.clock.state ?? 'unknown',
    governing,
    remainingH: governing?.clock.remainingH ?? null,
    expiresAt: governing?.clock.expiresAt ?? null,
    unknown: unknown.map(({ device }) => device),
    expired: known.filter(({ clock }) => clock.state === 'expired').map(({ device }) => device),
    boardDry: told !== null && byName.every(({ clock }) => clock.boardDry || isWithinFloorLife(clock.state)),
    why: told === null ? 'no device of it is known' : `${told.device}: ${told.clock.why}`,
    remedy: told === null ? 'Say which devices it carries.' : told.clock.remedy,
  };
}

/** Known to be dry enough to be soldered: within its floor life from a known start. */
export function isWithinFloorLife(state: MoistureState): boolean {
  return state === 'dry' || state === 'running' || state === 'paused';
}

const RANK: Readonly<Record<MoistureState, number>> = { expired: 0, running: 1, paused: 2, dry: 3, unknown: 4 };

function worstFirst(a: MoistureClock, b: MoistureClock): number {
  const ends = compareText(a.expiresAt ?? '~', b.expiresAt ?? '~');
  return RANK[a.state] - RANK[b.state] || ends || b.usedShare - a.usedShare;
}
