import { ThermocoupleKind } from '../../../libs/domain/heat/thermocouple-tolerance.js';
import { ObjectField, OneOfField, TextField, TimeField } from '../http/fields.js';

class ThermocoupleBody {
  @OneOfField(['K', 'J', 'T'])
  readonly type!: ThermocoupleKind['type'];

  @OneOfField([1, 2], { description: 'Tolerance class.' })
  readonly class!: ThermocoupleKind['class'];
}

export class StationBody {
  @TextField({ max: 100 })
  readonly kind!: string;

  @TimeField({ optional: true, description: 'From then on its measurements count as uncalibrated.' })
  readonly calibrationDueAt?: string;

  @ObjectField(() => ThermocoupleBody, { optional: true })
  readonly thermocouple?: ThermocoupleBody;
}
