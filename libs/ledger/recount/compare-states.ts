import { UnitState, World } from '../../domain/book/state.js';
import { compareOrder, EventOrder, refKey } from '../../domain/events/event-order.js';
import { parseStream, StreamKey } from '../../domain/subject/subject.js';
import { SubjectState } from '../ports/book-store.js';
import { inShort } from './difference.js';
import { RecountWork } from './recount-work.js';
import { Sum } from './add-up.js';
import { Story } from './story.js';

/** Differences that are named of one subject; of more there is only said that there are. */
const NAMED = 8;
/** What effects alone do not say: what was looked at, without being changed, counts here as well. */
const LOOKED_AT: ReadonlySet<string> = new Set(['last', 'devicesSeen', 'unitsSeen', 'rechecks']);

/** Compares the states that are kept of the subjects of a story with what its entries come to. */
export function compareStates(work: RecountWork, story: Story, sum: Sum): void {
  const orders = new Set(
    [...sum.facts.map(({ event }) => event.order), ...sum.rechecks.map((one) => one.order)].map(named),
  );
  const carried = devicesTold(sum);
  for (const key of story.keys) {
    const kept = story.records.get(key)?.state ?? null;
    const now = stateOf(sum.world, key);
    work.counts.states += kept === null && now === null ? 0 : 1;
    if (kept === null || now === null || kept.kind !== now.kind) {
      if (kept !== now) work.tell({ subject: key, what: 'state', kept: kindOf(kept), recomputed: kindOf(now) });
      continue;
    }
    const parts = [
      ...unlike(without(kept.state), without(now.state), ''),
      ...seenUnlike(kept, now, orders, carried.get(key)),
    ];
    const more =
      parts.length > NAMED ? [{ what: `${parts.length - NAMED} more places`, kept: '…', recomputed: '…' }] : [];
    for (const part of [...parts.slice(0, NAMED), ...more]) work.tell({ subject: key, ...part });
  }
}

interface Part {
  readonly what: string;
  readonly kept: string;
  readonly recomputed: string;
}

function stateOf(world: World, key: StreamKey): SubjectState | null {
  if (key.startsWith('devices/')) {
    const state = world.devices.get(key.slice('devices/'.length));
    return state === undefined ? null : { kind: 'device', state };
  }
  const stream = parseStream(key);
  const station = stream?.kind === 'station' ? world.stations.get(stream.station) : undefined;
  if (station !== undefined) return { kind: 'station', state: station };
  const unit = world.units.get(key);
  return unit === undefined ? null : { kind: 'unit', state: unit };
}

function kindOf(state: SubjectState | null): string {
  return state === null ? 'none' : `a ${state.kind}`;
}

function without(state: object): Record<string, unknown> {
  // Of a station nothing is looked at that is not changed.
  const isLeftOut = (name: string): boolean => !('station' in state) && LOOKED_AT.has(name);
  return Object.fromEntries(Object.entries(state).filter(([name]) => !isLeftOut(name)));
}

/** The places at which two JSON values part, as deep as they can be named. What is undefined is not there, as in JSON. */
function unlike(kept: unknown, now: unknown, path: string): Part[] {
  if (kept === now) return [];
  if (isObject(kept) && isObject(now) && Array.isArray(kept) === Array.isArray(now)) {
    if (Array.isArray(kept) && Array.isArray(now) && kept.length !== now.length) {
      const how = (list: readonly unknown[]): string => `${list.length}, the last ${inShort(list.at(-1))}`;
      return [{ what: path, kept: how(kept), recomputed: how(now) }];
    }
    const names = new Set([...Object.keys(kept), ...Object.keys(now)]);
    return [...names].flatMap((name) => unlike(kept[name], now[name], path === '' ? name : `${path}.${name}`));
  }
  return [{ what: path, kept: inShort(kept), recomputed: inShort(now) }];
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}

/** By unit: devices that its events opened there, put on it or took off it. */
function devicesTold({ facts }: Sum): ReadonlyMap<StreamKey, ReadonlySet<string>> {
  const told = new Map<StreamKey, Set<string>>();
  for (const { event, current } of facts) {
    for (const effect of current) {
      if (effect.kind !== 'device-opened' && effect.kind !== 'mounted' && effect.kind !== 'unmounted') continue;
      told.set(event.subject, (told.get(event.subject) ?? new Set<string>()).add(effect.device));
    }
  }
  return told;
}

/**
 * How far a subject's story is told, and with what. A device that was only looked at has heard of the event, and no effect
 * says so: what is kept must be an event that is there, and must have what effects tell of.
 */
function seenUnlike(
  kept: SubjectState,
  now: SubjectState,
  orders: ReadonlySet<string>,
  carried: ReadonlySet<string> = new Set(),
): Part[] {
  if (kept.kind === 'unit' && now.kind === 'unit') {
    return [...lackOf('devicesSeen', kept.state.devicesSeen, [...carried]), ...lastUnlike(kept.state, now.state)];
  }
  if (kept.kind !== 'device' || now.kind !== 'device') return [];
  const { last, unitsSeen } = kept.state;
  const isThere = last !== null && orders.has(named(last));
  return [
    ...lackOf('unitsSeen', unitsSeen, now.state.unitsSeen),
    ...(isThere ? [] : [{ what: 'last', kept: inShort(last), recomputed: 'an event that its ledgers have' }]),
  ];
}

function lackOf(what: string, kept: readonly string[], told: readonly string[]): Part[] {
  return told
    .filter((name) => !kept.includes(name))
    .map((name) => ({ what, kept: `without ${name}`, recomputed: `with ${name}` }));
}

function lastUnlike(kept: UnitState, now: UnitState): Part[] {
  const same =
    kept.last === now.last || (kept.last !== null && now.last !== null && compareOrder(kept.last, now.last) === 0);
  return same ? [] : [{ what: 'last', kept: inShort(kept.last), recomputed: inShort(now.last) }];
}

function named(order: EventOrder): string {
  return `${order.at} ${refKey(order)}`;
}
