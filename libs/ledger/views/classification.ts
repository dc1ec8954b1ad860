import { ClassTemperature, classTemperature } from '../../domain/classification/class-temperature.js';
import { ProfileFigures, profileFigures } from '../../domain/classification/profile-figures.js';
import { isLeaded } from '../../domain/heat/alloys.js';
import { baseFloorLife, Life } from '../../domain/moisture/floor-life.js';
import { PartData } from '../../domain/setup/setup-data.js';

/** What J-STD-020 and J-STD-033 say of a part, by its size, its level and its balls. */
export interface Classification {
  readonly classTemperature: ClassTemperature;
  /** At 30 C / 60 %RH. */
  readonly floorLife: Life;
  readonly profile: ProfileFigures;
}

export function classification(part: PartData): Classification {
  const { lengthMm, widthMm, thicknessMm, classificationC, msl } = part;
  const leadFree = !isLeaded(part.ballAlloy);
  const own = classificationC === undefined ? {} : { classificationC };
  return {
    classTemperature: classTemperature({ lengthMm, widthMm, thicknessMm, leadFree, ...own }),
    floorLife: baseFloorLife(msl),
    profile: profileFigures(leadFree),
  };
}
