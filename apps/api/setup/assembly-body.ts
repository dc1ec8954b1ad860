import { ALLOY_NAMES } from '../../../libs/domain/heat/alloys.js';
import { FINISHES, type Side, type SiteDesign } from '../../../libs/domain/setup/setup-data.js';
import { RESERVED_ASSEMBLIES } from '../../../libs/domain/subject/names.js';
import { CustomerField } from '../access/customer-field.js';
import {
  CountField,
  Field,
  FlagField,
  ListField,
  NameField,
  NumberField,
  OneOfField,
  PositiveField,
  Rule,
  TextField,
} from '../http/fields.js';
import { FieldProblem } from '../http/problem.js';

const MAX_SITES = 500;
const MAX_NEIGHBOURS = 50;
const MAX_PASSES = 20;
/** No board or part is larger than this, mm. */
const MAX_MM = 2_000;

class NeighbourBody {
  @NameField()
  readonly refdes!: string;

  @NumberField({ min: 0, max: MAX_MM, description: 'Between the bodies; 0 for one on the other side above or below.' })
  readonly gapMm!: number;
}

class SiteBody {
  @NameField()
  readonly refdes!: string;

  @NameField()
  readonly part!: string;

  @OneOfField(['top', 'bottom'])
  readonly side!: Side;

  @CountField({ min: 1, max: 20_000 })
  readonly pads!: number;

  @PositiveField({ max: 50 })
  readonly padDiameterMm!: number;

  @PositiveField({ max: 1_000, description: 'Copper of a pad as the board was made.' })
  readonly padCopperUm!: number;

  @OneOfField(FINISHES)
  readonly finish!: SiteDesign['finish'];

  @PositiveField({ max: 50 })
  readonly ballPitchMm!: number;

  @PositiveField({ max: 50 })
  readonly ballDiameterMm!: number;

  @OneOfField(ALLOY_NAMES)
  readonly jointAlloy!: string;

  @NumberField({ min: -MAX_MM, max: MAX_MM })
  readonly xMm!: number;

  @NumberField({ min: -MAX_MM, max: MAX_MM })
  readonly yMm!: number;

  @FlagField({ optional: true })
  readonly underfilled?: boolean;

  @ListField(() => NeighbourBody, { optional: true, max: MAX_NEIGHBOURS, description: 'None where left out.' })
  readonly neighbours: NeighbourBody[] = [];
}

export class AssemblyBody {
  @CustomerField()
  readonly customer!: string;

  @TextField({ max: 500 })
  readonly description!: string;

  @FlagField()
  readonly leadFree!: boolean;

  @Field(
    { optional: true },
    {
      description: 'Reflow passes when the board was built: one figure, or one by side.',
      oneOf: [
        { type: 'integer', minimum: 0, maximum: MAX_PASSES },
        {
          type: 'object',
          required: ['top', 'bottom'],
          additionalProperties: false,
          properties: {
            top: { type: 'integer', minimum: 0, maximum: MAX_PASSES },
            bottom: { type: 'integer', minimum: 0, maximum: MAX_PASSES },
          },
        },
      ],
      default: 1,
    },
    Rule('isPasses', isPasses, `must be a whole number from 0 to ${MAX_PASSES}, or {top, bottom} with one each`),
  )
  readonly assemblyReflows: number | { readonly top: number; readonly bottom: number } = 1;

  @ListField(() => SiteBody, { min: 1, max: MAX_SITES })
  readonly sites!: SiteBody[];
}

function isPasses(value: unknown): boolean {
  if (typeof value !== 'object' || value === null) return isPassCount(value);
  const passes = Object.entries(value);
  return passes.length === 2 && passes.every(([side, count]) => /^(top|bottom)$/.test(side) && isPassCount(count));
}

function isPassCount(value: unknown): boolean {
  return typeof value === 'number' && Number.isInteger(value) && value >= 0 && value <= MAX_PASSES;
}

/** What one field cannot show: names that clash or point nowhere. */
export function assemblyProblems(assembly: string, { sites }: Pick<AssemblyBody, 'sites'>): FieldProblem[] {
  const problems: FieldProblem[] = [];
  if (RESERVED_ASSEMBLIES.includes(assembly)) {
    problems.push({ pointer: '/assembly', detail: `${assembly} names something else; no assembly can be called that` });
  }
  const refdesAt = new Map<string, number>();
  sites.forEach(({ refdes }, index) => {
    const first = refdesAt.get(refdes);
    if (first === undefined) refdesAt.set(refdes, index);
    else
      problems.push({ pointer: `/sites/${index}/refdes`, detail: `${refdes} is the name of /sites/${first} already` });
  });
  sites.forEach((site, index) => {
    problems.push(...neighbourProblems(site, `/sites/${index}/neighbours`, refdesAt));
  });
  return problems;
}

function neighbourProblems(
  site: SiteBody,
  pointer: string,
  known: ReadonlyMap<string, number>,
): readonly FieldProblem[] {
  const seen = new Set<string>();
  return site.neighbours.flatMap(({ refdes }, index) => {
    const at = `${pointer}/${index}/refdes`;
    if (refdes === site.refdes) return [{ pointer: at, detail: 'is the site itself' }];
    if (!known.has(refdes)) return [{ pointer: at, detail: `${refdes} is no site of this assembly` }];
    if (seen.has(refdes)) return [{ pointer: at, detail: `${refdes} is listed twice` }];
    seen.add(refdes);
    return [];
  });
}
