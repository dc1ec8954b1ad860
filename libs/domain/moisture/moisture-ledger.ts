import { orderTime } from '../events/event-order.js';
import { Bake, bakedHours } from './bake.js';
import { airColumns } from './floor-life.js';
import { gatherSpells } from './gather-spells.js';
import { Air, Spell, Storage } from './spell.js';

/** What is learnt of moisture. Times are RFC 3339. */
export type MoistureFact =
  /** Packed dry and sealed by its maker; whatever came before is forgotten. */
  | { readonly kind: 'dry-pack-sealed'; readonly at: string }
  /** Lies in this storage from now on. */
  | {
      readonly kind: 'exposed';
      readonly at: string;
      readonly storage: Storage;
      readonly ambientC?: number;
      readonly relativeHumidityPct?: number;
    }
  | { readonly kind: 'baked'; readonly bake: Bake };

/**
 * What is kept of the moisture of a unit or device: plain JSON, advanced fact by fact, oldest spell first.
 *
 * It holds air and hours, not shares of a floor life: every device aboard a unit shares the unit's spells, and which
 * share of its life that was, whether a bake was long enough for it and whether dry storage reset it depend on the
 * part, which the setup tells at reading time (`readClock`). Order is kept because resets depend on it. It is bounded:
 * beyond `MAX_SPELLS`, old neighbours are gathered into hours by column, which can lose a reset by dry storage (to the
 * side of more moisture) and nothing else.
 */
export interface MoistureLedger {
  readonly spells: readonly Spell[];
  /** Hours above 90 C in bakes of the loose part; board bakes do not count here. */
  readonly looseBakeH: number;
}

export const EMPTY_MOISTURE: MoistureLedger = { spells: [], looseBakeH: 0 };
export const MAX_SPELLS = 48;

/** Reference condition of floor life, taken where the station says nothing: J-STD-033. */
const REFERENCE_C = 30;
const REFERENCE_PCT = 60;
/** A desiccant or a dry cabinet of which nobody says how dry it is: a house assumption. */
const DRY_STORAGE_PCT = 10;

/**
 * The ledger with one more fact. Facts come in the order of their events; a bake may be told after what followed it,
 * and is put where it belongs. A bake's own record governs its time: the last storage told in it holds from its end,
 * and with none told the time after it is unsaid.
 * @throws RangeError where a time is not RFC 3339 or a figure is out of all range (`airColumns`, `bakedHours`).
 */
export function advance(ledger: MoistureLedger, fact: MoistureFact): MoistureLedger {
  switch (fact.kind) {
    case 'dry-pack-sealed': {
      const from = orderTime(fact.at);
      const later = ledger.spells.filter((spell) => spell.from > from);
      return bounded({ ...ledger, spells: [{ kind: 'sealed', from }, ...later] });
    }
    case 'exposed': {
      const air = airOf(fact.storage, fact.ambientC, fact.relativeHumidityPct);
      const spell = { kind: 'air', from: orderTime(fact.at), storage: fact.storage, air } as const;
      return bounded({ ...ledger, spells: withAir(ledger.spells, spell) });
    }
    case 'baked': {
      const hotH = fact.bake.of === 'device' && fact.bake.temperatureC > 90 ? bakedHours(fact.bake) : 0;
      return bounded({ spells: withBake(ledger.spells, fact.bake), looseBakeH: ledger.looseBakeH + hotH });
    }
  }
}

/** Air as told, or as assumed where it was not. */
export function airOf(storage: Storage, ambientC?: number, relativeHumidityPct?: number): Air {
  const assumedPct = storage === 'open' ? REFERENCE_PCT : DRY_STORAGE_PCT;
  const columns = airColumns(ambientC ?? REFERENCE_C, relativeHumidityPct ?? assumedPct);
  return { ...columns, told: ambientC === undefined || relativeHumidityPct === undefined ? 'assumed' : 'declared' };
}

/**
 * The ledger of a device that was put on a unit: its own spells until then, the unit's from then on. A unit's spell
 * in force at that time is cut there; only where old spells were gathered is the whole of them taken.
 * @throws RangeError where the time is not RFC 3339.
 */
export function continuedAboard(device: MoistureLedger, unit: MoistureLedger, placedAt: string): MoistureLedger {
  const at = orderTime(placedAt);
  const own = device.spells.filter((spell) => spell.from < at);
  const inForce = unit.spells.findLast((spell) => spell.from <= at);
  const aboard = unit.spells.filter((spell) => spell.from > at);
  const first: Spell =
    inForce?.kind === 'air' || inForce?.kind === 'gathered' ? { ...inForce, from: at } : { kind: 'unsaid', from: at };
  return bounded({ spells: [...own, first, ...aboard], looseBakeH: device.looseBakeH });
}

function bounded(ledger: MoistureLedger): MoistureLedger {
  return { ...ledger, spells: gatherSpells(ledger.spells, MAX_SPELLS) };
}

function withAir(spells: readonly Spell[], told: Spell & { kind: 'air' }): Spell[] {
  const bake = spells.findLast((spell) => spell.kind === 'baked' && spell.from <= told.from);
  const bakeEnd = bake?.kind === 'baked' ? orderTime(bake.bake.endedAt) : told.from;
  const from = bakeEnd > told.from ? bakeEnd : told.from;
  const others = spells.filter((spell) => spell.from !== from || (spell.kind !== 'air' && spell.kind !== 'unsaid'));
  const before = others.filter((spell) => spell.from <= from);
  return [...before, { ...told, from }, ...others.slice(before.length)];
}

function withBake(spells: readonly Spell[], bake: Bake): Spell[] {
  const end = orderTime(bake.endedAt);
  const started = orderTime(bake.startedAt);
  const from = started < end ? started : end;
  const before = spells.filter((spell) => spell.from <= from);
  const inside = spells.filter((spell) => spell.from > from && spell.from < end);
  const after = spells.filter((spell) => spell.from >= end && spell.from > from);
  const spanning = before.at(-1)?.kind === 'gathered' && spells.length > before.length ? before.splice(-1) : [];
  const kept = [...spanning, ...inside.filter((spell) => spell.kind !== 'air' && spell.kind !== 'unsaid')];
  const last = inside.findLast((spell) => spell.kind === 'air');
  const next: Spell = last === undefined ? { kind: 'unsaid', from: end } : { ...last, from: end };
  const tail = after[0]?.from === end ? [] : [next];
  return [...before, { kind: 'baked', from, bake }, ...kept, ...tail, ...after];
}
