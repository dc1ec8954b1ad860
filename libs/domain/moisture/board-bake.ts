import { Bake, bakedHours, BakeSufficiency } from './bake.js';

/** Bakes that shops give a populated board before local rework: published practice, not a table of a standard. */
const PRACTICE = [
  { temperatureC: 125, neededH: 24 },
  { temperatureC: 105, neededH: 8 },
] as const;
const REFERENCE = 'common practice for boards, published: 125 C for about 24 h, or 105 C for 8 to 12 h';

/**
 * Whether a bake was what shops give a board: 125 C for 24 h or more, or 105 C and above for 8 h or more. It makes a
 * board dry enough for heat above 200 C by practice; it resets no device's floor life, which its package decides.
 * @throws RangeError as `bakedHours`.
 */
export function boardBakePractice(bake: Bake): BakeSufficiency {
  const bakedH = bakedHours(bake);
  const met = PRACTICE.find(({ temperatureC, neededH }) => bake.temperatureC >= temperatureC && bakedH >= neededH);
  const wanted = PRACTICE.find(({ temperatureC }) => bake.temperatureC >= temperatureC) ?? null;
  const sufficient = bake.of === 'unit' && met !== undefined;
  const why = sufficient ? [] : [bake.of === 'unit' ? `${bake.temperatureC} C for ${bakedH} h` : 'no bake of a board'];
  return { sufficient, bakedH, neededH: met?.neededH ?? wanted?.neededH ?? null, why, reference: REFERENCE };
}
