import { Finding, PlantedMistake } from '../../../libs/simulator/mistake.js';
import { SimulatedDay } from '../../../libs/simulator/simulate-day.js';

/** A planted mistake with what the book was to say and did not. */
export interface CheckedMistake extends PlantedMistake {
  readonly missing: readonly Finding[];
}

/** What the book says, beside what it should. */
export interface ComparedDay {
  readonly mistakes: readonly CheckedMistake[];
  /** What the book says of boards without being expected to. */
  readonly unexpected: readonly (Finding & { readonly board: string })[];
}

/** @param found by board, `{assembly}/{serial}` */
export function compareDay(
  { mistakes }: Pick<SimulatedDay, 'mistakes'>,
  found: ReadonlyMap<string, readonly Finding[]>,
): ComparedDay {
  const keyOf = ({ kind, code, subject }: Finding): string => [kind, code, subject].join(' ');
  const said = new Set([...found.values()].flat().map(keyOf));
  const expected = new Set(mistakes.flatMap((mistake) => mistake.expected.map(keyOf)));
  return {
    mistakes: mistakes.map((mistake) => ({
      ...mistake,
      missing: mistake.expected.filter((one) => !said.has(keyOf(one))),
    })),
    unexpected: [...found].flatMap(([board, ones]) =>
      ones.filter((one) => !expected.has(keyOf(one))).map((one) => ({ board, ...one })),
    ),
  };
}
