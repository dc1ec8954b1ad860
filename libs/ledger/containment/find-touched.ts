import { DeviceState } from '../../domain/book/state.js';
import { compareText } from '../../domain/events/event-order.js';
import { deviceKey, parseStream, StreamKey, unitKey } from '../../domain/subject/subject.js';
import { devicesAboard } from '../../domain/book/reach.js';
import { SubjectState } from '../ports/book-store.js';
import { LedgerSearch, MarkWish } from '../ports/ledger-search.js';
import { SetupBook } from '../setup/setup-book.js';
import { satThen, staysOf } from './device-stays.js';
import { deviceTouches } from './device-touches.js';
import { limitTouches } from './limit-touches.js';
import { MARK } from './marks-of.js';
import { readFacts } from './read-facts.js';
import { SuspectCause, Suspicion } from './suspect-cause.js';
import { ContainmentTooWide } from './too-wide.js';
import { MOST_DEVICES, MOST_ENTRIES, Touched, Touches, TouchingEntry } from './touched.js';

/** Facts of one cause; some ten thousand units. */
const MOST_FACTS = 200_000;
const CHUNK = 1_000;

type Known = Map<StreamKey, SubjectState>;

export interface FindDeps {
  readonly search: LedgerSearch;
  readonly setup: SetupBook;
}

/**
 * Every unit and loose device that a cause reached in its interval, by key. A device that it reached is followed to where
 * it is now: to the unit that carries it, or to itself while it is loose. Scrapped devices are left out: they go nowhere.
 * @throws ContainmentTooWide
 */
export async function findTouched(deps: FindDeps, suspicion: Suspicion): Promise<readonly Touched[]> {
  await deps.setup.catchUp();
  const { cause } = suspicion;
  const touches = await touchesDone(deps, suspicion);
  const known = new Map<StreamKey, SubjectState>();
  await learn(deps.search, known, touches.keys());
  await followDepartures(deps.search, touches, known);
  if (cause.kind === 'device' || cause.kind === 'part' || cause.kind === 'lot') {
    const byDevices = await deviceTouches(deps.search, cause, suspicion);
    for (const key of byDevices.keys()) touches.addAll(key, byDevices.of(key));
  }
  const through = await followDevices(deps.search, touches, known);
  const rules = deps.setup.latest();
  const found = touches.keys().flatMap((key): Touched[] => {
    const state = known.get(key);
    const entries = [...touches.of(key)].sort(compareEntries);
    const [first, last] = [entries[0], entries.at(-1)];
    if (state === undefined || first === undefined || last === undefined) return [];
    const common = {
      key,
      firstAt: first.at,
      lastAt: last.at,
      touches: entries.length,
      entries: entries.slice(0, MOST_ENTRIES),
      through: [...(through.get(key) ?? [])].sort().slice(0, MOST_DEVICES),
    };
    if (state.kind === 'unit') {
      const { assembly, serial, status } = state.state;
      const customer = rules.find('assembly', assembly)?.body.customer ?? null;
      return [{ ...common, subject: { kind: 'unit', assembly, serial }, customer, state: status }];
    }
    if (state.kind !== 'device' || state.state.status !== 'loose') return [];
    return [{ ...common, subject: { kind: 'device', device: state.state.device }, customer: null, state: 'loose' }];
  });
  return found.sort((a, b) => compareText(a.key, b.key));
}

/** What something was done to by the cause, whatever sat on it. */
async function touchesDone({ search, setup }: FindDeps, suspicion: Suspicion): Promise<Touches> {
  const { cause } = suspicion;
  if (cause.kind === 'limit') return limitTouches(search, setup, cause.limit, suspicion);
  const touches = new Touches();
  const wish = markOf(cause);
  if (wish === null) return touches;
  const rows = await search.factsMarked(wish, suspicion, MOST_FACTS);
  if (rows.length >= MOST_FACTS) throw new ContainmentTooWide('facts', MOST_FACTS);
  for (const { subject, ...row } of rows) {
    if (parseStream(subject)?.kind !== 'station') touches.add(subject, { ledger: subject, ...row });
  }
  return touches;
}

/** What facts by the cause are found by; null where it is devices alone. */
function markOf(cause: Exclude<SuspectCause, { kind: 'limit' }>): MarkWish | null {
  switch (cause.kind) {
    case 'station':
      return { mark: MARK.station(cause.station) };
    case 'operator':
      return { mark: MARK.operator(cause.operator) };
    case 'profile': {
      const { name, revision } = cause;
      return revision === undefined ? { prefix: MARK.profile(name, '') } : { mark: MARK.profile(name, revision) };
    }
    case 'solder-alloy':
      return { mark: MARK.solderAlloy(cause.solderAlloy) };
    case 'lot':
      return { mark: MARK.lot(cause.lot) };
    case 'device':
    case 'part':
      return null;
  }
}

async function learn(search: LedgerSearch, known: Known, keys: readonly StreamKey[]): Promise<void> {
  const missing = [...new Set(keys)].filter((key) => !known.has(key));
  for (let start = 0; start < missing.length; start += CHUNK) {
    for (const { key, state } of await search.subjectsOf(missing.slice(start, start + CHUNK))) {
      if (state !== null) known.set(key, state);
    }
  }
}

/**
 * What was done to a unit was done to every device that sat on it then: one that has left since takes it along. Only units
 * with such devices are read through.
 */
async function followDepartures(search: LedgerSearch, touches: Touches, known: Known): Promise<void> {
  const departed = await departedFrom(search, touches.keys(), known);
  const devices = [...new Set([...departed.values()].flatMap((keys) => [...keys]))];
  await learn(search, known, devices);
  // Where two records claim a device, only the other unit's ledger says that it left.
  const elsewhere = devices.flatMap((key) => {
    const state = known.get(key);
    return state?.kind === 'device' ? state.state.unitsSeen : [];
  });
  const ledgers = [...new Set([...departed.keys(), ...devices, ...elsewhere])].sort();
  for (const stay of staysOf(await readFacts(search, ledgers))) {
    const key = deviceKey(stay.device);
    if (departed.get(stay.unit)?.has(key) !== true) continue;
    const during = touches.of(stay.unit).filter(({ at }) => satThen(stay, at));
    touches.addAll(key, during);
  }
}

/** By unit: devices that it had and that are elsewhere now. A name that was given up and a scrapped device count for none. */
async function departedFrom(
  search: LedgerSearch,
  units: readonly StreamKey[],
  known: Known,
): Promise<ReadonlyMap<StreamKey, ReadonlySet<StreamKey>>> {
  const seenOn = units.flatMap((unit): (readonly [StreamKey, readonly StreamKey[]])[] => {
    const state = known.get(unit);
    if (state?.kind !== 'unit') return [];
    return [[unit, [...new Set([...state.state.devicesSeen, ...devicesAboard(state.state)])].map(deviceKey)]];
  });
  const places = new Map<StreamKey, StreamKey | null>();
  const seen = [...new Set(seenOn.flatMap(([, devices]) => devices))];
  for (let start = 0; start < seen.length; start += CHUNK) {
    for (const { key, status, unit } of await search.whereabouts(seen.slice(start, start + CHUNK))) {
      if (status === 'mounted' || status === 'loose') places.set(key, unit);
    }
  }
  const departed = seenOn.map(
    ([unit, devices]) => [unit, new Set(devices.filter((key) => places.has(key) && places.get(key) !== unit))] as const,
  );
  return new Map(departed.filter(([, devices]) => devices.size > 0));
}

/** Adds to each unit what reached a device that it carries now. @returns by unit, the devices by which it was reached */
async function followDevices(
  search: LedgerSearch,
  touches: Touches,
  known: Known,
): Promise<ReadonlyMap<StreamKey, ReadonlySet<string>>> {
  const through = new Map<StreamKey, Set<string>>();
  await learn(search, known, touches.keys());
  for (const key of touches.keys()) {
    const device = await resolved(search, known, key);
    if (device === undefined) continue;
    const { place } = device;
    const target = place === null ? deviceKey(device.device) : unitKey(place.assembly, place.serial);
    if (target === key) continue;
    // The device's entries of its own moves stand in the unit's ledger too: only what reached it elsewhere is news.
    const news = touches.of(key).filter((entry) => !isToldBy(touches.of(target), entry));
    touches.addAll(target, news);
    if (place !== null && news.length > 0) through.set(target, (through.get(target) ?? new Set()).add(device.device));
  }
  await learn(search, known, touches.keys());
  return through;
}

function isToldBy(entries: readonly TouchingEntry[], { event }: TouchingEntry): boolean {
  return entries.some((entry) => entry.event.source === event.source && entry.event.id === event.id);
}

/** The device of a ledger under the name that it has now; undefined for what is no device. */
async function resolved(search: LedgerSearch, known: Known, key: StreamKey): Promise<DeviceState | undefined> {
  let state = known.get(key);
  while (state?.kind === 'device' && state.state.status === 'renamed' && state.state.knownAs !== null) {
    const next = deviceKey(state.state.knownAs);
    await learn(search, known, [next]);
    state = known.get(next);
  }
  return state?.kind === 'device' ? state.state : undefined;
}

function compareEntries(a: TouchingEntry, b: TouchingEntry): number {
  return compareText(a.at, b.at) || compareText(a.ledger, b.ledger) || a.seq - b.seq;
}
