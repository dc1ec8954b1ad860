import { type Skill, SKILLS } from '../../../libs/domain/setup/setup-data.js';
import { ListField, OneOfField, TimeField } from '../http/fields.js';

class QualificationBody {
  @OneOfField(SKILLS)
  readonly skill!: Skill;

  @TimeField()
  readonly validUntil!: string;
}

export class OperatorBody {
  @ListField(() => QualificationBody, { max: 100 })
  readonly qualifications!: QualificationBody[];
}
