import { PartData } from '../setup/setup-data.js';
import {
  BodyGroup,
  cellProvenance,
  DeratedLevel,
  FLOOR_LIFE_DAYS,
  HUMIDITY_COLUMNS_PCT,
  HumidityColumnPct,
  TEMPERATURE_COLUMNS_C,
  TemperatureColumnC,
} from './floor-life-table.js';
import { MoisturePart } from './moisture-part.js';

/** How long a part may lie open: hours, without end, or what its label says. */
export type Life =
  { readonly kind: 'hours'; readonly lifeH: number } | { readonly kind: 'unlimited' } | { readonly kind: 'by-label' };

/** Air, in the columns of the derating table. */
export interface AirColumns {
  readonly columnC: TemperatureColumnC;
  readonly columnPct: HumidityColumnPct;
}

export interface FloorLife extends AirColumns {
  readonly life: Life;
  readonly group: BodyGroup;
  /** Hotter than 35 C or wetter than 90 %RH: the last column stands in, and the true life may be shorter. */
  readonly outOfRange: boolean;
  readonly notes: readonly string[];
  readonly reference: string;
}

const YEAR_H = 8760;
const BASE_H = { '2': YEAR_H, '2a': 672, '3': 168, '4': 72, '5': 48, '5a': 24 } as const;

/** Floor life at up to 30 C and 60 %RH (level 1: 85 %RH). J-STD-033, published. Level 6: bake, then the label's time. */
export function baseFloorLife(msl: PartData['msl']): Life {
  if (msl === '1') return { kind: 'unlimited' };
  return msl === '6' ? { kind: 'by-label' } : { kind: 'hours', lifeH: BASE_H[msl] };
}

/** Body group of the derating table. Thickness in mm. */
export function bodyGroup(part: Pick<MoisturePart, 'thicknessMm' | 'bga'>): BodyGroup {
  if (part.bga) return part.thicknessMm >= 1 ? 'A' : 'C';
  if (part.thicknessMm >= 3.1) return 'A';
  return part.thicknessMm >= 2.1 ? 'B' : 'C';
}

/**
 * The column that is as hot or hotter and as wet or wetter, never one between. Air hotter than 35 C or wetter than
 * 90 %RH takes the last column.
 * @throws RangeError where a figure is not finite or the humidity is negative.
 */
export function airColumns(ambientC: number, relativeHumidityPct: number): AirColumns & { outOfRange: boolean } {
  if (!Number.isFinite(ambientC)) throw new RangeError(`not an air temperature in C: ${ambientC}`);
  if (!Number.isFinite(relativeHumidityPct) || relativeHumidityPct < 0) {
    throw new RangeError(`not a relative humidity in %: ${relativeHumidityPct}`);
  }
  const columnC = TEMPERATURE_COLUMNS_C.find((column) => ambientC <= column);
  const columnPct = HUMIDITY_COLUMNS_PCT.find((column) => relativeHumidityPct <= column);
  const outOfRange = columnC === undefined || columnPct === undefined;
  return { columnC: columnC ?? 35, columnPct: columnPct ?? 90, outOfRange };
}

/**
 * Floor life of a part in this air: J-STD-033, Table 7-1 (20 to 35 C, 5 to 90 %RH), by the next worse column.
 * Level 2 is not in the table. Up to 30 C / 60 %RH it has its year; in worse air the life of level 2a, which is the
 * more sensitive, stands in as a safe bound.
 * @throws RangeError as `airColumns`.
 */
export function deratedFloorLife(part: MoisturePart, ambientC: number, relativeHumidityPct: number): FloorLife {
  const { columnC, columnPct, outOfRange } = airColumns(ambientC, relativeHumidityPct);
  const group = bodyGroup(part);
  const notes = outOfRange ? ['outside the table (35 C, 90 %RH): its worst column stands in'] : [];
  const found = (life: Life, reference: string): FloorLife => ({
    group,
    columnC,
    columnPct,
    outOfRange,
    life,
    notes,
    reference,
  });
  if (part.msl === '1' || part.msl === '6') {
    if (part.msl === '1' && (ambientC > 30 || relativeHumidityPct > 85))
      notes.push('level 1 is stated to 30 C / 85 %RH');
    return found(baseFloorLife(part.msl), 'J-STD-033, floor life by level, published');
  }
  const level = part.msl === '2' ? '2a' : part.msl;
  const cell = tableLife(group, level, { columnC, columnPct });
  const origin = cellProvenance(group, level, columnC, columnPct) === 'F' ? 'published' : 'from memory';
  const reference = `J-STD-033, Table 7-1, group ${group}, ${origin}`;
  if (part.msl !== '2' || cell.kind === 'unlimited') return found(cell, reference);
  if (columnC <= 30 && columnPct <= 60) {
    return found(baseFloorLife('2'), 'J-STD-033, floor life by level, published');
  }
  notes.push('no derating is given for level 2: the life of level 2a stands in as a safe bound');
  return found(cell, reference);
}

function tableLife(group: BodyGroup, msl: DeratedLevel, air: AirColumns): Life {
  const days = FLOOR_LIFE_DAYS[group][msl][air.columnC][HUMIDITY_COLUMNS_PCT.indexOf(air.columnPct)] ?? null;
  return days === null ? { kind: 'unlimited' } : { kind: 'hours', lifeH: days * 24 };
}
