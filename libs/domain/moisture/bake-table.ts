export type BakeColumnC = 125 | 90 | 40;
export type BakedLevel = '2' | '2a' | '3' | '4' | '5' | '5a';

/** Hours where the floor life was exceeded by more than 72 h, then by up to 72 h. */
type BakeHours = readonly [over72H: number, upTo72H: number];
type Columns = Readonly<Record<BakeColumnC, BakeHours>>;

export interface BakeRow {
  readonly name: string;
  /** Thickest body of the row, mm. */
  readonly maxMm: number;
  readonly hours: Readonly<Record<BakedLevel, Columns>>;
  /** Levels of this row that were found on a published page; the others are from memory. */
  readonly published: readonly BakedLevel[];
}

const DAY_H = 24;
const days = (over72: number, upTo72: number): BakeHours => [over72 * DAY_H, upTo72 * DAY_H];
const THICK = { 125: [48, 48], 90: days(10, 7), 40: days(79, 67) } as const;

/** User bake by body thickness and level; the 90 C and 40 C columns want air of 5 %RH or less. J-STD-033, Table 4-1. */
export const BAKE_ROWS: readonly BakeRow[] = [
  {
    name: 'up to 1.4 mm',
    maxMm: 1.4,
    hours: {
      '2': { 125: [5, 3], 90: [17, 11], 40: days(8, 5) },
      '2a': { 125: [7, 5], 90: [23, 13], 40: days(9, 7) },
      '3': { 125: [9, 7], 90: [33, 23], 40: days(13, 9) },
      '4': { 125: [11, 7], 90: [37, 23], 40: days(15, 9) },
      '5': { 125: [12, 7], 90: [41, 24], 40: days(17, 10) },
      '5a': { 125: [16, 10], 90: [54, 24], 40: days(22, 10) },
    },
    published: ['3', '4', '5', '5a'],
  },
  {
    name: 'above 1.4 to 2.0 mm',
    maxMm: 2,
    hours: {
      '2': { 125: [18, 15], 90: [63, 48], 40: days(25, 20) },
      '2a': { 125: [21, 16], 90: days(3, 2), 40: days(29, 22) },
      '3': { 125: [27, 17], 90: days(4, 2), 40: days(37, 23) },
      '4': { 125: [34, 20], 90: days(5, 3), 40: days(47, 28) },
      '5': { 125: [40, 25], 90: days(6, 4), 40: days(57, 35) },
      '5a': { 125: [48, 40], 90: days(8, 6), 40: days(79, 56) },
    },
    published: ['2a', '3', '4', '5'],
  },
  {
    name: 'above 2.0 to 4.5 mm',
    maxMm: 4.5,
    hours: {
      '2': THICK,
      '2a': THICK,
      '3': { ...THICK, 90: days(10, 8) },
      '4': { ...THICK, 90: days(10, 10) },
      '5': { ...THICK, 90: days(10, 10) },
      '5a': { ...THICK, 90: days(10, 10) },
    },
    published: [],
  },
];

/** At 125 C, where stacked die or a plane in the substrate keep the moisture in; cooler bakes go by thickness. From memory. */
export const BARRIER_BAKE_H = 96;
