import { compareOrder } from '../../domain/events/event-order.js';
import { deviceKey, parseStream, StreamKey, unitKey } from '../../domain/subject/subject.js';
import { DeviceState } from '../../domain/book/state.js';
import { LedgerSearch } from '../ports/ledger-search.js';
import { overlaps, staysOf } from './device-stays.js';
import { MARK } from './marks-of.js';
import { ContainmentTooWide } from './too-wide.js';
import { readFacts, ToldFact } from './read-facts.js';
import { Suspicion, within } from './suspect-cause.js';
import { Touches } from './touched.js';

/** Ledgers whose whole story is read for one cause. */
const MOST_LEDGERS = 40_000;
/** What the keys of devices' ledgers begin with. */
const DEVICES = deviceKey('');

/** Devices that are suspected: one, or all of a part or lot. */
export type DeviceCause =
  | { readonly kind: 'device'; readonly device: string }
  | { readonly kind: 'part'; readonly part: string }
  | { readonly kind: 'lot'; readonly lot: string };

/**
 * What suspected devices reached: units that they sat on at any moment of the interval, and units and devices of facts in
 * it that place, remove, heat, inspect or otherwise name them.
 * @throws ContainmentTooWide
 */
export async function deviceTouches(search: LedgerSearch, cause: DeviceCause, span: Suspicion): Promise<Touches> {
  const { facts, suspects } = await storyOf(search, cause);
  const touches = new Touches();
  for (const fact of facts) {
    if (!within(span, fact.at)) continue;
    const named = fact.devices.filter((device) => suspects.has(device));
    if (named.length > 0) touches.add(fact.subject, fact.entry);
    for (const device of named) touches.add(deviceKey(device), fact.entry);
  }
  for (const stay of staysOf(facts)) {
    if (suspects.has(stay.device) && overlaps(stay, span)) touches.add(stay.unit, stay.entry);
  }
  return touches;
}

interface Story {
  /** In the order in which they happened. */
  readonly facts: readonly ToldFact[];
  /** The suspected devices, by every name that they ever had. */
  readonly suspects: ReadonlySet<string>;
}

/** Everything that was ever told of the suspected devices. What is read may show that further ones are. */
async function storyOf(search: LedgerSearch, cause: DeviceCause): Promise<Story> {
  const ledgers = new Set<StreamKey>();
  let facts: readonly ToldFact[] = [];
  let suspects: ReadonlySet<string> = new Set();
  let wanted = await firstLedgers(search, cause);
  while (wanted.length > 0) {
    const fresh = await withLinks(search, ledgers, wanted);
    facts = [...facts, ...(await readFacts(search, fresh))].sort((a, b) => compareOrder(a.order, b.order));
    suspects = suspectsIn(facts, cause);
    wanted = [...suspects].map(deviceKey).filter((key) => !ledgers.has(key));
  }
  return { facts, suspects };
}

async function firstLedgers(search: LedgerSearch, cause: DeviceCause): Promise<readonly StreamKey[]> {
  if (cause.kind === 'device') return [deviceKey(cause.device)];
  const mark = cause.kind === 'part' ? MARK.part(cause.part) : MARK.deviceLot(cause.lot);
  return search.ledgersMarked([mark], MOST_LEDGERS + 1);
}

/**
 * Ledgers with all that tell of the same devices: a few too many, never one too few.
 * @param ledgers those known already; the others are added
 * @returns what was added, sorted
 */
async function withLinks(
  search: LedgerSearch,
  ledgers: Set<StreamKey>,
  wanted: readonly StreamKey[],
): Promise<readonly StreamKey[]> {
  const added: StreamKey[] = [];
  const note = (keys: readonly StreamKey[]): void => {
    for (const key of keys) {
      if (ledgers.has(key) || parseStream(key)?.kind === 'station') continue;
      ledgers.add(key);
      added.push(key);
    }
    if (ledgers.size > MOST_LEDGERS) throw new ContainmentTooWide('ledgers', MOST_LEDGERS);
  };
  note(wanted);
  for (let looked = 0; looked < added.length;) {
    const devices = added.slice(looked).filter((key) => key.startsWith(DEVICES));
    looked = added.length;
    note(
      await search.ledgersMarked(
        devices.map((key) => MARK.device(key.slice(DEVICES.length))),
        MOST_LEDGERS + 1,
      ),
    );
    for (const { state } of await search.subjectsOf(devices)) {
      if (state?.kind === 'device') note(linksOf(state.state));
    }
  }
  return added.sort();
}

function linksOf({ unitsSeen, place, knownAs }: DeviceState): StreamKey[] {
  return [
    ...unitsSeen,
    ...(place === null ? [] : [unitKey(place.assembly, place.serial)]),
    ...(knownAs === null ? [] : [deviceKey(knownAs)]),
  ];
}

function suspectsIn(facts: readonly ToldFact[], cause: DeviceCause): ReadonlySet<string> {
  const suspects = new Set(cause.kind === 'device' ? [cause.device] : facts.flatMap((fact) => tellsOf(fact, cause)));
  const names = facts.flatMap(({ effects }) => effects.flatMap((e) => (e.kind === 'device-named' ? [e] : [])));
  for (let before = -1; before !== suspects.size;) {
    before = suspects.size;
    for (const { device, formerly } of names) {
      if (suspects.has(device)) suspects.add(formerly);
      if (suspects.has(formerly)) suspects.add(device);
    }
  }
  return suspects;
}

/** Devices of which a fact says that they are of the part or lot. */
function tellsOf({ effects, data }: ToldFact, cause: Exclude<DeviceCause, { kind: 'device' }>): readonly string[] {
  const judged = effects.flatMap((effect) => {
    if (effect.kind !== 'device-opened' && effect.kind !== 'device-described') return [];
    const fits = cause.kind === 'part' ? effect.part === cause.part : 'lot' in effect && effect.lot === cause.lot;
    return fits ? [effect.device] : [];
  });
  const { part, device } = data as { readonly part?: string; readonly device?: string };
  return cause.kind === 'part' && part === cause.part && device !== undefined ? [...judged, device] : judged;
}
