import { unitStateWords } from '../units/site-words.js';

/** So many units and loose devices: `37 units and 1 loose device`. */
export function howManyInWords(units: number, devices: number): string {
  const parts = [
    ...(units > 0 ? [`${String(units)} ${units === 1 ? 'unit' : 'units'}`] : []),
    ...(devices > 0 ? [`${String(devices)} ${devices === 1 ? 'loose device' : 'loose devices'}`] : []),
  ];
  return parts.length === 0 ? 'nothing' : parts.join(' and ');
}

/** Where what is contained is now. */
export function whereWords(state: string): string {
  return state === 'loose' ? 'a loose device' : unitStateWords(state);
}

/** Counts by name, the most first, as bars; what belongs to nobody is said so. */
export function barsOf(
  counts: Readonly<Record<string, number>>,
  words: (name: string) => string,
): readonly { readonly name: string; readonly label: string; readonly count: number }[] {
  return Object.entries(counts)
    .map(([name, count]) => ({ name, label: words(name), count }))
    .toSorted((one, other) => other.count - one.count);
}

/** Counts by customer with those that belong to none, under an empty name. @param all how many there are in all */
export function withNobodys(
  byCustomer: Readonly<Record<string, number>>,
  all: number,
): Readonly<Record<string, number>> {
  const nobodys = all - Object.values(byCustomer).reduce((sum, count) => sum + count, 0);
  return nobodys > 0 ? { ...byCustomer, '': nobodys } : byCustomer;
}
