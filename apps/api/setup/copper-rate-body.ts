import { ALLOY_NAMES, alloyNamed } from '../../../libs/domain/heat/alloys.js';
import { NumberField, TextField } from '../http/fields.js';
import { FieldProblem } from '../http/problem.js';

/** um/s: above any rate that a pad would live through for a second. A house choice. */
const MAX_UM_PER_S = 100;

/** A rate that the house measured; it takes the place of the assumed one. */
export class CopperRateBody {
  @NumberField({ min: 0, max: MAX_UM_PER_S, description: 'Copper dissolved in flowing solder at 260 C, um/s.' })
  readonly flowingUmPerS!: number;

  @NumberField({ min: 0, max: MAX_UM_PER_S, description: 'The same in still solder.' })
  readonly stillUmPerS!: number;

  @TextField({ max: 500, description: 'How and on what it was measured.' })
  readonly source!: string;
}

/** What is wrong with the name that a rate is entered under. */
export function copperRateProblems(alloy: string): FieldProblem[] {
  if (alloyNamed(alloy) !== undefined) return [];
  return [{ pointer: '', detail: `must be for an alloy that the house knows: ${ALLOY_NAMES.join(', ')}` }];
}
