import { orderTime } from '../events/event-order.js';
import { BAKE_ROWS, BakeColumnC, BARRIER_BAKE_H } from './bake-table.js';
import { HOUR_MS, millisecondsBetween } from './moisture-time.js';
import { MoisturePart } from './moisture-part.js';

/** A bake as the oven's station told it. Times are RFC 3339; a board is baked with all that sits on it. */
export interface Bake {
  readonly of: 'unit' | 'device';
  readonly temperatureC: number;
  readonly startedAt: string;
  readonly endedAt: string;
  /** Absent: not said. */
  readonly relativeHumidityPct?: number;
  /** All interruptions together, minutes. */
  readonly interruptedMinutes?: number;
}

export interface BakeWanted extends MoisturePart {
  /** Hours open beyond the floor life; 0 where it was not used up, null where nobody knows (taken as above 72 h). */
  readonly exceededByH: number | null;
  readonly temperatureC: number;
}

export type RequiredBake =
  | {
      readonly kind: 'hours';
      readonly neededH: number;
      readonly columnC: BakeColumnC;
      readonly row: string;
      readonly exceeded: 'over-72-h' | 'up-to-72-h';
      readonly why: readonly string[];
      readonly reference: string;
    }
  | { readonly kind: 'none'; readonly why: readonly string[]; readonly reference: string }
  | { readonly kind: 'outside-table'; readonly why: readonly string[]; readonly reference: string };

export interface BakeSufficiency {
  readonly sufficient: boolean;
  readonly bakedH: number;
  /** null where the table has no answer. */
  readonly neededH: number | null;
  readonly why: readonly string[];
  readonly reference: string;
}

const TABLE = 'J-STD-033, Table 4-1';
const INTERRUPTION_FREE_MINUTES = 15;
/** From J-STD-033: air of the 90 C and 40 C columns. */
const DRY_AIR_PCT = 5;

/**
 * Bake that resets the floor life of a part at this temperature, hours. A temperature between two columns takes the
 * cooler one, which asks for longer. Bodies up to 4.5 mm, levels 2 to 5a, 40 C and above: all else is outside the table.
 * Where a barrier is declared the 96 h row is taken whatever the size: the setup does not tell stacked die, which the
 * row covers at any size, from a plane, which it covers above 17 x 17 mm.
 * @throws RangeError where a length, temperature or excess is no number that fits.
 */
export function requiredBake(want: BakeWanted): RequiredBake {
  const { msl, thicknessMm, exceededByH, temperatureC } = want;
  if (!Number.isFinite(temperatureC)) throw new RangeError(`not a bake temperature in C: ${temperatureC}`);
  if (!(thicknessMm > 0)) throw new RangeError(`not a body thickness in mm: ${thicknessMm}`);
  if (exceededByH !== null && !(exceededByH >= 0)) throw new RangeError(`not an excess in hours: ${exceededByH}`);
  if (msl === '1') return { kind: 'none', why: ['level 1 needs no bake'], reference: TABLE };
  const outside = (why: string): RequiredBake => ({ kind: 'outside-table', why: [why], reference: TABLE });
  if (msl === '6') return outside('level 6 is baked by its own label');
  const columnC = bakeColumn(temperatureC);
  if (columnC === null) return outside(`no bake below 40 C counts, this one was at ${temperatureC} C`);
  const row = BAKE_ROWS.find(({ maxMm }) => thicknessMm <= maxMm);
  if (row === undefined) return outside(`the table ends at a body of 4.5 mm, this one has ${thicknessMm} mm`);
  const exceeded = exceededByH !== null && exceededByH <= 72 ? 'up-to-72-h' : 'over-72-h';
  const why = [...columnReason(temperatureC, columnC), ...excessReason(exceededByH)];
  if (want.moistureBarrier === true && columnC === 125) {
    const large = want.bga && want.lengthMm > 17 && want.widthMm > 17;
    const name = large ? 'BGA above 17 x 17 mm with a barrier' : 'stacked die or a barrier';
    const reference = `${TABLE}, from memory`;
    return { kind: 'hours', neededH: BARRIER_BAKE_H, columnC, row: name, exceeded, why, reference };
  }
  const neededH = row.hours[msl][columnC][exceeded === 'over-72-h' ? 0 : 1];
  const reference = `${TABLE}, ${row.published.includes(msl) ? 'published' : 'from memory'}`;
  return { kind: 'hours', neededH, columnC, row: `${row.name}, level ${msl}`, exceeded, why, reference };
}

/**
 * Whether a bake did what was needed. Interruptions of more than 15 minutes in all do not count as baking, so the
 * bake must be as much longer. A 90 C or 40 C column is met only in air of 5 %RH or less: where the humidity
 * was not said, an oven at 90 C and above is taken to meet it (room air up to 30 C / 60 %RH comes to about 4 %RH when heated to
 * 90 C, by saturation pressures from memory), one at 40 C is not.
 * @throws RangeError where a time is not RFC 3339.
 */
export function bakeSufficiency(bake: Bake, need: RequiredBake): BakeSufficiency {
  const bakedH = bakedHours(bake);
  const { reference } = need;
  if (need.kind === 'none') return { sufficient: true, bakedH, neededH: 0, why: need.why, reference };
  if (need.kind === 'outside-table') return { sufficient: false, bakedH, neededH: null, why: need.why, reference };
  const { neededH, columnC } = need;
  const why = [...need.why];
  const air = columnC === 125 ? { dry: true, why: [] } : dryAir(bake, columnC);
  why.push(...air.why);
  if (interruptedMinutes(bake) > INTERRUPTION_FREE_MINUTES) {
    why.push(`interrupted for ${interruptedMinutes(bake)} min, which do not count (rule published and from memory)`);
  }
  if (bakedH < neededH) why.push(`${round(bakedH)} h of the ${neededH} h needed at the ${columnC} C column`);
  return { sufficient: bakedH >= neededH && air.dry, bakedH, neededH, why, reference };
}

/** Hours at temperature: from start to end without interruptions of more than 15 minutes in all; never negative. */
export function bakedHours(bake: Bake): number {
  const elapsedMs = millisecondsBetween(orderTime(bake.startedAt), orderTime(bake.endedAt));
  const minutes = interruptedMinutes(bake);
  const lostMs = minutes > INTERRUPTION_FREE_MINUTES ? minutes * 60_000 : 0;
  return Math.max(0, elapsedMs - lostMs) / HOUR_MS;
}

function interruptedMinutes(bake: Bake): number {
  const minutes = bake.interruptedMinutes ?? 0;
  if (!Number.isFinite(minutes) || minutes < 0) throw new RangeError(`not an interruption in minutes: ${minutes}`);
  return minutes;
}

function bakeColumn(temperatureC: number): BakeColumnC | null {
  if (temperatureC >= 125) return 125;
  if (temperatureC >= 90) return 90;
  return temperatureC >= 40 ? 40 : null;
}

function columnReason(temperatureC: number, columnC: BakeColumnC): string[] {
  if (temperatureC > 125) return [`${temperatureC} C is above the table: its 125 C column is taken`];
  return temperatureC === columnC ? [] : [`${temperatureC} C lies between columns: the cooler ${columnC} C is taken`];
}

function excessReason(exceededByH: number | null): string[] {
  return exceededByH === null ? ['how long it lay open is unknown: taken as more than 72 h over'] : [];
}

function dryAir(bake: Bake, columnC: 90 | 40): { dry: boolean; why: string[] } {
  const pct = bake.relativeHumidityPct;
  if (pct !== undefined) {
    return pct <= DRY_AIR_PCT ? { dry: true, why: [] } : { dry: false, why: [`air of ${pct} %RH, not 5 %RH or less`] };
  }
  if (columnC === 90) return { dry: true, why: ['humidity not said: room air heated this far is assumed below 5 %RH'] };
  return { dry: false, why: ['humidity not said: at this temperature it must be shown to be 5 %RH or less'] };
}

function round(hours: number): number {
  return Math.floor(hours * 100) / 100;
}
