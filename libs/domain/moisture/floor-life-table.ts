/** Temperature and humidity columns of the derating table, C and %RH. */
export const TEMPERATURE_COLUMNS_C = [20, 25, 30, 35] as const;
export const HUMIDITY_COLUMNS_PCT = [5, 10, 20, 30, 40, 50, 60, 70, 80, 90] as const;
export type TemperatureColumnC = (typeof TEMPERATURE_COLUMNS_C)[number];
export type HumidityColumnPct = (typeof HUMIDITY_COLUMNS_PCT)[number];
export type DeratedLevel = '2a' | '3' | '4' | '5' | '5a';

/** A: 3.1 mm and thicker, or a BGA body of 1 mm and thicker; B: 2.1 to below 3.1 mm; C: below 2.1 mm, or a BGA below 1 mm. */
export type BodyGroup = 'A' | 'B' | 'C';

type Days = number | null;
type Cells = readonly [Days, Days, Days, Days, Days, Days, Days, Days, Days, Days];

/** Unlimited. */
const i = null;

/**
 * Floor life in days by body group, moisture level and temperature; the ten columns are 5 to 90 %RH as above.
 * J-STD-033, Table 7-1. Group A as published; groups B and C from memory but for the points of `cellProvenance`.
 */
export const FLOOR_LIFE_DAYS: Readonly<
  Record<BodyGroup, Readonly<Record<DeratedLevel, Readonly<Record<TemperatureColumnC, Cells>>>>>
> = {
  A: {
    '2a': {
      35: [i, i, 94, 44, 32, 26, 16, 7, 5, 4],
      30: [i, i, 124, 60, 41, 33, 28, 10, 7, 6],
      25: [i, i, 167, 78, 53, 42, 36, 14, 10, 8],
      20: [i, i, 231, 103, 69, 57, 47, 19, 13, 10],
    },
    '3': {
      35: [i, i, 8, 7, 6, 6, 6, 4, 3, 3],
      30: [i, i, 10, 9, 8, 7, 7, 5, 4, 4],
      25: [i, i, 13, 11, 10, 9, 9, 7, 6, 5],
      20: [i, i, 17, 14, 13, 12, 12, 10, 8, 7],
    },
    '4': {
      35: [i, 3, 3, 3, 2, 2, 2, 2, 1, 1],
      30: [i, 5, 4, 4, 4, 3, 3, 3, 2, 2],
      25: [i, 6, 5, 5, 5, 5, 4, 3, 3, 3],
      20: [i, 8, 7, 7, 7, 7, 6, 5, 4, 4],
    },
    '5': {
      35: [i, 2, 2, 2, 2, 1, 1, 1, 1, 1],
      30: [i, 4, 3, 3, 2, 2, 2, 2, 1, 1],
      25: [i, 5, 5, 4, 4, 3, 3, 2, 2, 2],
      20: [i, 7, 7, 6, 5, 5, 4, 3, 3, 3],
    },
    '5a': {
      35: [i, 1, 1, 1, 1, 1, 1, 1, 1, 1],
      30: [i, 2, 1, 1, 1, 1, 1, 1, 1, 1],
      25: [i, 3, 2, 2, 2, 2, 2, 1, 1, 1],
      20: [i, 5, 4, 3, 3, 3, 2, 2, 2, 2],
    },
  },
  B: {
    '2a': {
      35: [i, i, i, i, 58, 30, 22, 3, 2, 1],
      30: [i, i, i, i, 86, 39, 28, 4, 3, 2],
      25: [i, i, i, i, 148, 51, 37, 6, 4, 3],
      20: [i, i, i, i, i, 69, 49, 8, 5, 4],
    },
    '3': {
      35: [i, i, 12, 9, 7, 6, 5, 2, 2, 1],
      30: [i, i, 19, 12, 9, 8, 7, 3, 2, 2],
      25: [i, i, 25, 15, 12, 10, 9, 5, 3, 3],
      20: [i, i, 32, 19, 15, 13, 12, 7, 5, 4],
    },
    '4': {
      35: [i, 5, 4, 3, 3, 2, 2, 1, 1, 1],
      30: [i, 7, 5, 4, 4, 3, 3, 2, 2, 1],
      25: [i, 9, 7, 5, 5, 4, 4, 3, 2, 2],
      20: [i, 11, 9, 7, 6, 6, 5, 4, 3, 3],
    },
    '5': {
      35: [i, 3, 2, 2, 2, 2, 1, 1, 1, 1],
      30: [i, 4, 3, 3, 2, 2, 2, 1, 1, 1],
      25: [i, 5, 4, 3, 3, 3, 3, 2, 1, 1],
      20: [i, 6, 5, 5, 4, 4, 4, 3, 3, 2],
    },
    '5a': {
      35: [i, 1, 1, 1, 1, 1, 1, 1, 0.5, 0.5],
      30: [i, 2, 1, 1, 1, 1, 1, 1, 0.5, 0.5],
      25: [i, 2, 2, 2, 2, 2, 2, 1, 1, 1],
      20: [i, 3, 2, 2, 2, 2, 2, 2, 2, 1],
    },
  },
  C: {
    '2a': {
      35: [i, i, i, i, i, i, 17, 1, 0.5, 0.5],
      30: [i, i, i, i, i, i, 28, 1, 1, 1],
      25: [i, i, i, i, i, i, i, 2, 1, 1],
      20: [i, i, i, i, i, i, i, 2, 2, 1],
    },
    '3': {
      35: [i, i, i, i, i, 8, 5, 1, 0.5, 0.5],
      30: [i, i, i, i, i, 11, 7, 1, 1, 1],
      25: [i, i, i, i, i, 14, 10, 2, 1, 1],
      20: [i, i, i, i, i, 20, 13, 2, 2, 1],
    },
    '4': {
      35: [i, i, i, 7, 4, 3, 2, 1, 0.5, 0.5],
      30: [i, i, i, 9, 5, 4, 3, 1, 1, 1],
      25: [i, i, i, 12, 7, 5, 4, 2, 1, 1],
      20: [i, i, i, 17, 9, 7, 6, 2, 2, 1],
    },
    '5': {
      35: [i, i, 7, 3, 2, 2, 1, 1, 0.5, 0.5],
      30: [i, i, 13, 5, 3, 2, 2, 1, 1, 1],
      25: [i, i, 18, 6, 4, 3, 3, 2, 1, 1],
      20: [i, i, 26, 8, 6, 5, 4, 2, 2, 1],
    },
    '5a': {
      35: [i, 7, 2, 1, 1, 1, 1, 1, 0.5, 0.5],
      30: [i, 10, 3, 2, 1, 1, 1, 1, 1, 0.5],
      25: [i, 13, 5, 3, 2, 2, 2, 1, 1, 1],
      20: [i, 18, 6, 4, 3, 2, 2, 2, 2, 1],
    },
  },
};

/** `F`: found on a published page; `M`: from memory. */
export function cellProvenance(
  group: BodyGroup,
  msl: DeratedLevel,
  columnC: TemperatureColumnC,
  columnPct: HumidityColumnPct,
): 'F' | 'M' {
  const found = group === 'C' && msl === '3' && columnC === 30 && (columnPct === 60 || columnPct === 70);
  return group === 'A' || found ? 'F' : 'M';
}
