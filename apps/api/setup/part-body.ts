import { ALLOY_NAMES } from '../../../libs/domain/heat/alloys.js';
import { MOISTURE_LEVELS, PartData } from '../../../libs/domain/setup/setup-data.js';
import { CountField, FlagField, NumberField, OneOfField, PositiveField } from '../http/fields.js';

const MAX_MM = 500;

export class PartBody {
  @PositiveField({ max: MAX_MM })
  readonly lengthMm!: number;

  @PositiveField({ max: MAX_MM })
  readonly widthMm!: number;

  @PositiveField({ max: MAX_MM })
  readonly thicknessMm!: number;

  @OneOfField(MOISTURE_LEVELS)
  readonly msl!: PartData['msl'];

  @OneOfField(ALLOY_NAMES)
  readonly ballAlloy!: string;

  @CountField({ optional: true, min: 0, max: 100, description: "The maker's figure; a limit scoped to this part." })
  readonly maxExcursions?: number;

  @NumberField({ optional: true, min: 100, max: 400, description: 'Class temperature of the package.' })
  readonly classificationC?: number;

  @FlagField({ optional: true, description: 'Stacked die or a plane that blocks moisture.' })
  readonly moistureBarrier?: boolean;
}
