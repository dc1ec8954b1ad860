/** A station's thermocouples as its setup declares them. */
export interface ThermocoupleKind {
  readonly type: 'K' | 'J' | 'T';
  readonly class: 1 | 2;
}

interface Tolerance {
  readonly floorC: number;
  readonly share: number;
}

/**
 * Tolerance classes of IEC 60584: the greater of a floor and a share of the reading, both in C.
 * Type K as published (class 1 ±1.5 to 375 C then 0.004|t|, class 2 ±2.5 to 333 C then 0.0075|t|);
 * types J and T are from memory.
 */
const TOLERANCES: Readonly<Record<ThermocoupleKind['type'], Readonly<Record<1 | 2, Tolerance>>>> = {
  K: { 1: { floorC: 1.5, share: 0.004 }, 2: { floorC: 2.5, share: 0.0075 } },
  J: { 1: { floorC: 1.5, share: 0.004 }, 2: { floorC: 2.5, share: 0.0075 } },
  T: { 1: { floorC: 0.5, share: 0.004 }, 2: { floorC: 1, share: 0.0075 } },
};

/** Taken where neither the event nor the station's setup says better. */
export const ASSUMED_THERMOCOUPLE: ThermocoupleKind = { type: 'K', class: 2 };

/** Half-width of the tolerance band at a reading, C. */
export function toleranceC(kind: ThermocoupleKind, readingC: number): number {
  const { floorC, share } = TOLERANCES[kind.type][kind.class];
  return Math.max(floorC, share * Math.abs(readingC));
}
