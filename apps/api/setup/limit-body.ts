import { DRESSING_METHODS } from '../../../libs/domain/events/station-event.js';
import {
  type Allowed,
  BUDGET_KINDS,
  LIMIT_KINDS,
  type LimitKind,
  type LimitRule,
} from '../../../libs/domain/limits/limit-rule.js';
import { Field, FlagField, NameField, ObjectField, OneOfField, Rule, TextField, TimeField } from '../http/fields.js';
import { FieldProblem } from '../http/problem.js';

const MAX_ROWS = 50;

class ScopeBody {
  @TextField({ optional: true, max: 200 })
  readonly customer?: string;

  @NameField({ optional: true })
  readonly assembly?: string;

  @NameField({ optional: true })
  readonly part?: string;

  @NameField({ optional: true })
  readonly refdes?: string;
}

export class LimitBody {
  @OneOfField(LIMIT_KINDS)
  readonly kind!: LimitKind;

  @Field(
    {},
    {
      description: 'A number; dressing methods for method-allowed; a number or rows by pitch for flatness-max.',
      oneOf: [
        { type: 'number' },
        { type: 'array', maxItems: MAX_ROWS, items: { type: 'string', enum: [...DRESSING_METHODS] } },
        {
          type: 'array',
          maxItems: MAX_ROWS,
          items: {
            type: 'object',
            required: ['pitchMm', 'max'],
            additionalProperties: false,
            properties: { pitchMm: { type: 'number' }, max: { type: 'number' } },
          },
        },
      ],
    },
    Rule('isGiven', (value) => value !== undefined && value !== null, 'must be given'),
  )
  readonly allowed!: Allowed;

  @TextField({ max: 100 })
  readonly unit!: string;

  @ObjectField(() => ScopeBody, { optional: true, description: 'The whole house where left out.' })
  readonly scope: ScopeBody = new ScopeBody();

  @OneOfField(['hold', 'warn'])
  readonly action!: LimitRule['action'];

  @TextField({ max: 1_000, description: 'Where the figure comes from.' })
  readonly source!: string;

  @TimeField({
    optional: true,
    description: 'What happens before is judged by the revision before. At once where left out.',
  })
  readonly effectiveFrom?: string;

  @FlagField({ optional: true, description: 'Budgets only: spend possible excursions like counted ones.' })
  readonly countPossible?: boolean;
}

/** What one field cannot show: `allowed` must suit the kind of limit, and the kind stay what it was. */
export function limitProblems({ kind, allowed, countPossible }: LimitBody, known?: LimitKind): FieldProblem[] {
  const detail = allowedProblem(kind, allowed);
  const problems = detail === undefined ? [] : [{ pointer: '/allowed', detail }];
  if (known !== undefined && known !== kind) {
    problems.push({ pointer: '/kind', detail: `must stay ${known}; enter a limit of another kind under another name` });
  }
  if (countPossible !== undefined && !isBudget(kind)) {
    problems.push({ pointer: '/countPossible', detail: `has no meaning for ${kind}` });
  }
  return problems;
}

function allowedProblem(kind: LimitKind, allowed: unknown): string | undefined {
  if (kind === 'method-allowed') {
    return isMethodList(allowed) ? undefined : `must be a list of some of ${DRESSING_METHODS.join(', ')}, each once`;
  }
  if (kind === 'flatness-max') {
    const holds = isFigure(allowed) ? allowed > 0 : isPitchTable(allowed);
    return holds ? undefined : 'must be a number above 0, or rows {pitchMm, max} of such numbers with no pitch twice';
  }
  if (isBudget(kind)) {
    const holds = isFigure(allowed) && Number.isInteger(allowed) && allowed >= 0;
    return holds ? undefined : 'must be a whole number from 0';
  }
  if (kind === 'qualified-operator' || kind === 'calibrated-station' || kind === 'clearance-required') {
    return allowed === 0 ? undefined : 'must be 0: each step is judged by itself';
  }
  // A house may stay below the class temperature: the only figure that can be negative.
  const least = kind === 'body-peak-max' ? -100 : 0;
  return isFigure(allowed) && allowed >= least ? undefined : `must be a number from ${least}`;
}

function isBudget(kind: LimitKind): boolean {
  return BUDGET_KINDS.some((budget) => budget === kind);
}

function isFigure(value: unknown): value is number {
  return typeof value === 'number' && Number.isFinite(value) && value <= 1_000_000;
}

function isMethodList(value: unknown): boolean {
  if (!Array.isArray(value) || value.length === 0 || new Set(value).size < value.length) return false;
  return value.every((method) => DRESSING_METHODS.some((known) => known === method));
}

function isPitchTable(value: unknown): boolean {
  if (!Array.isArray(value) || value.length === 0 || value.length > MAX_ROWS) return false;
  const rows: readonly unknown[] = value;
  const pitches = rows.map(pitchOf);
  return !pitches.includes(undefined) && new Set(pitches).size === pitches.length;
}

/** The pitch of a row that is `{pitchMm, max}` and nothing else. */
function pitchOf(row: unknown): number | undefined {
  if (typeof row !== 'object' || row === null || Object.keys(row).length !== 2) return undefined;
  if (!('pitchMm' in row) || !('max' in row)) return undefined;
  const { pitchMm, max } = row;
  return isFigure(pitchMm) && pitchMm > 0 && isFigure(max) && max > 0 ? pitchMm : undefined;
}
