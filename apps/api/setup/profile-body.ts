import { ALLOY_NAMES } from '../../../libs/domain/heat/alloys.js';
import {
  ListField,
  NameField,
  NumberField,
  ObjectField,
  OneOfField,
  PositiveField,
  TextField,
  TimeField,
} from '../http/fields.js';
import { FieldProblem } from '../http/problem.js';

const MAX_C = 500;
const MAX_S = 3_600;
const MAX_C_PER_S = 100;

class NeighbourPeakBody {
  @NameField()
  readonly refdes!: string;

  @NumberField({ min: 0, max: MAX_C })
  readonly peakC!: number;
}

class WindowBody {
  @NumberField({ optional: true, min: 0, max: MAX_C })
  readonly peakMinC?: number;

  @NumberField({ optional: true, min: 0, max: MAX_C })
  readonly peakMaxC?: number;

  @NumberField({ optional: true, min: 0, max: MAX_S })
  readonly aboveLiquidusMinS?: number;

  @NumberField({ optional: true, min: 0, max: MAX_S })
  readonly aboveLiquidusMaxS?: number;

  @PositiveField({ optional: true, max: MAX_C_PER_S })
  readonly riseMaxCPerS?: number;

  @PositiveField({ optional: true, max: MAX_C_PER_S })
  readonly fallMaxCPerS?: number;
}

export class ProfileBody {
  @TextField({ max: 200 })
  readonly purpose!: string;

  @OneOfField(ALLOY_NAMES)
  readonly alloy!: string;

  @NameField({ optional: true })
  readonly assembly?: string;

  @NameField({ optional: true, description: 'Reference designator.' })
  readonly site?: string;

  @TimeField({ optional: true })
  readonly qualifiedAt?: string;

  @ListField(() => NeighbourPeakBody, { optional: true, max: 50, description: 'Measured when it was qualified.' })
  readonly neighbourPeaks: NeighbourPeakBody[] = [];

  @ObjectField(() => WindowBody, { optional: true })
  readonly window?: WindowBody;
}

/** What one field cannot show: a window that nothing fits into, a neighbour with two peaks. */
export function profileProblems({ window, neighbourPeaks }: ProfileBody): FieldProblem[] {
  const problems: FieldProblem[] = [];
  const {
    peakMinC = 0,
    peakMaxC = MAX_C,
    aboveLiquidusMinS = 0,
    aboveLiquidusMaxS = MAX_S,
  } = window ?? new WindowBody();
  if (peakMaxC < peakMinC) problems.push({ pointer: '/window/peakMaxC', detail: 'is below peakMinC' });
  if (aboveLiquidusMaxS < aboveLiquidusMinS) {
    problems.push({ pointer: '/window/aboveLiquidusMaxS', detail: 'is below aboveLiquidusMinS' });
  }
  neighbourPeaks.forEach(({ refdes }, index) => {
    if (neighbourPeaks.findIndex((peak) => peak.refdes === refdes) < index) {
      problems.push({ pointer: `/neighbourPeaks/${index}/refdes`, detail: `${refdes} is listed twice` });
    }
  });
  return problems;
}
