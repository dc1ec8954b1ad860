import { Effect } from '../../libs/domain/book/effect.js';
import { compareOrder, EventRef, orderTime } from '../../libs/domain/events/event-order.js';
import { Suspicion } from '../../libs/ledger/containment/suspect-cause.js';
import { SubjectState } from '../../libs/ledger/ports/book-store.js';
import { SealedEntry } from '../../libs/ledger/ports/seal.js';

/** A fact as a ledger tells it now. */
interface Told {
  readonly entry: SealedEntry;
  readonly event: EventRef;
  readonly at: string;
  readonly said: Readonly<Record<string, unknown>>;
  readonly effects: readonly Effect[];
}

/**
 * What a cause reached, worked out from every entry there is without an index, a mark or anything remembered: for each
 * moment all facts before it are told again from the beginning. Slow, and plain to read.
 * @param stateOf what is known of a ledger's subject
 * @returns keys of units and loose devices, sorted
 */
export function naiveTouched(
  entries: readonly SealedEntry[],
  stateOf: (key: string) => SubjectState | null,
  { cause, from, to }: Suspicion,
): readonly string[] {
  const facts = toldIn(entries);
  const inside = facts.filter(({ at }) => at >= orderTime(from) && at < orderTime(to));
  const touched = new Set<string>();
  const touchUnitOrDevice = (key: string): void => {
    const now = whereNow(key, stateOf);
    if (now !== null) touched.add(now);
    if (stateOf(key)?.kind === 'unit') touched.add(key);
  };
  const suspects = suspectedDevices(facts, cause);
  for (const fact of inside) {
    if (matches(fact, cause)) {
      touchUnitOrDevice(fact.entry.subject);
      for (const device of aboardAround(facts, fact)) touchUnitOrDevice(`devices/${device}`);
    }
    if (suspects === null || fact.entry.type === 'heatbook.device.moved.v1') continue;
    const named = namedBy(fact).filter((device) => suspects.has(device));
    if (named.length === 0) continue;
    touchUnitOrDevice(fact.entry.subject);
    for (const device of named) touchUnitOrDevice(`devices/${device}`);
  }
  if (suspects !== null) {
    const moments = [null, ...inside.filter(({ at }) => at > orderTime(from))];
    for (const moment of moments) {
      const before =
        moment === null ? facts.filter(({ at }) => at <= orderTime(from)) : facts.slice(0, facts.indexOf(moment) + 1);
      for (const [device, unit] of places(before)) if (suspects.has(device)) touched.add(unit);
    }
  }
  return [...touched].sort();
}

function toldIn(entries: readonly SealedEntry[]): readonly Told[] {
  const struck = new Set(
    entries.flatMap(({ type, event }) =>
      type === 'heatbook.entry.annulled.v1' && event !== null ? [`${event.source} ${event.id}`] : [],
    ),
  );
  const told = entries.flatMap((entry): Told[] => {
    const { event } = entry;
    if (event === null || entry.type === 'heatbook.entry.annulled.v1') return [];
    if (struck.has(`${event.source} ${event.id}`)) return [];
    let effects = entry.effects as readonly Effect[];
    for (const later of entries) {
      if (later.type !== 'heatbook.entry.rejudged.v1' || later.subject !== entry.subject) continue;
      const { changes } = later.data as { changes: readonly { event: EventRef; effects: readonly Effect[] }[] };
      for (const change of changes) {
        if (change.event.source === event.source && change.event.id === event.id) effects = change.effects;
      }
    }
    const said = entry.data as Readonly<Record<string, unknown>>;
    return [{ entry, event, at: orderTime(entry.time), said, effects }];
  });
  return told.sort((a, b) => compareOrder({ ...a.event, at: a.at }, { ...b.event, at: b.at }));
}

/** Null where the cause is no device. */
function suspectedDevices(facts: readonly Told[], cause: Suspicion['cause']): ReadonlySet<string> | null {
  const suspects = new Set<string>();
  if (cause.kind === 'device') suspects.add(cause.device);
  else if (cause.kind !== 'part' && cause.kind !== 'lot') return null;
  for (const { effects, said } of facts) {
    for (const effect of effects) {
      if (cause.kind === 'part' && 'part' in effect && effect.part === cause.part) suspects.add(effect.device);
      if (cause.kind === 'lot' && 'lot' in effect && effect.lot === cause.lot) suspects.add(effect.device);
    }
    if (cause.kind === 'part' && said['part'] === cause.part && typeof said['device'] === 'string') {
      suspects.add(said['device']);
    }
  }
  for (let round = 0; round < 10; round += 1) {
    for (const { effects } of facts) {
      for (const effect of effects) {
        if (effect.kind !== 'device-named') continue;
        if (suspects.has(effect.device) || suspects.has(effect.formerly)) {
          suspects.add(effect.device);
          suspects.add(effect.formerly);
        }
      }
    }
  }
  return suspects;
}

function matches({ event, entry, said }: Told, cause: Suspicion['cause']): boolean {
  const profile = said['profile'] as { name: string; revision: string } | undefined;
  switch (cause.kind) {
    case 'station':
      return event.source === `/stations/${cause.station}`;
    case 'operator':
      return (entry.actor as { operator?: string }).operator === cause.operator;
    case 'profile':
      return profile?.name === cause.name && (cause.revision === undefined || profile.revision === cause.revision);
    case 'solder-alloy':
      return ['solderAlloy', 'pasteAlloy', 'ballAlloy'].some((member) => said[member] === cause.solderAlloy);
    case 'lot':
      return Object.values((said['lots'] ?? {}) as Record<string, string>).includes(cause.lot);
    case 'limit':
      return entry.type === 'heatbook.site.dressed.v1';
    case 'device':
    case 'part':
      return false;
  }
}

function namedBy({ entry, said, effects }: Told): readonly string[] {
  const text = JSON.stringify([
    entry.subject.startsWith('devices/') ? [{ device: entry.subject.slice('devices/'.length) }] : [],
    { device: said['device'], target: said['target'], devices: said['devices'] },
    effects.filter(({ kind }) => kind !== 'device-opened' && kind !== 'unit-opened' && kind !== 'sites-opened'),
  ]);
  return [...text.matchAll(/"device":"([^"]+)"/g)].flatMap(([, device]) => device ?? []);
}

/** Where devices sit after these facts. */
function places(facts: readonly Told[]): ReadonlyMap<string, string> {
  const at = new Map<string, string>();
  for (const { entry, effects } of facts) {
    if (entry.type === 'heatbook.device.moved.v1') continue;
    for (const effect of effects) {
      if ((effect.kind === 'mounted' || effect.kind === 'device-opened') && effect.place !== null) {
        at.set(effect.device, `${effect.place.assembly}/${effect.place.serial}`);
      } else if (effect.kind === 'unmounted' && at.get(effect.device) === effect.unit) {
        at.delete(effect.device);
      } else if (effect.kind === 'device-status') {
        at.delete(effect.device);
      } else if (effect.kind === 'device-named') {
        const unit = at.get(effect.formerly);
        at.delete(effect.formerly);
        if (unit !== undefined) at.set(effect.device, unit);
      }
    }
  }
  return at;
}

/** Devices on the unit of a fact just before it, in the midst of it, or after it. */
function aboardAround(facts: readonly Told[], fact: Told): readonly string[] {
  const place = facts.indexOf(fact);
  // Where the book has it elsewhere (`to` is null), the site's table was wrong and something else came off.
  const passing = fact.effects.flatMap((effect) =>
    effect.kind === 'unmounted' && effect.to !== null ? [effect.device] : [],
  );
  const aboard = [places(facts.slice(0, place)), places(facts.slice(0, place + 1))].flatMap((at) =>
    [...at].flatMap(([device, unit]) => (unit === fact.entry.subject ? [device] : [])),
  );
  return [...passing, ...aboard];
}

/** The unit that carries a device now, or the device itself while it is loose; null for what is neither. */
function whereNow(key: string, stateOf: (key: string) => SubjectState | null): string | null {
  const state = stateOf(key);
  if (state?.kind !== 'device') return null;
  const { status, knownAs, place, device } = state.state;
  if (status === 'renamed' && knownAs !== null) return whereNow(`devices/${knownAs}`, stateOf);
  if (place !== null) return `${place.assembly}/${place.serial}`;
  return status === 'loose' ? `devices/${device}` : null;
}
