import { ArgumentMetadata, PipeTransform } from '@nestjs/common';
import { plainToInstance } from 'class-transformer';
import { validate, ValidationError } from 'class-validator';
import { pointerToken } from '../../../libs/ledger/intake/json-pointer.js';
import { findUnfitText } from '../../../libs/ledger/intake/unfit-text.js';
import { FieldProblem, ProblemError } from './problem.js';
import { findUnfitMembers } from './unfit-members.js';

/** Whoever has more to mend than this mends these first. */
const MOST_TOLD = 100;

const RULES = { whitelist: true, forbidNonWhitelisted: true, forbidUnknownValues: true };

/** Turns a body or a query into its class, refusing what has another shape and members that nobody knows. */
export class ShapePipe implements PipeTransform {
  async transform(value: unknown, { type, metatype }: ArgumentMetadata): Promise<unknown> {
    // No record can have a name that cannot be kept.
    if (type === 'param' && findUnfitText(value, 1).length > 0) {
      throw new ProblemError('not-found', 'Nothing has a name with such characters in it.');
    }
    if (metatype === undefined || (type !== 'body' && type !== 'query') || isBuiltIn(metatype)) return value;
    return shaped(value, metatype, type === 'body' ? 'invalid-body' : 'invalid-query');
  }
}

async function shaped(
  value: unknown,
  metatype: NonNullable<ArgumentMetadata['metatype']>,
  code: 'invalid-body' | 'invalid-query',
): Promise<unknown> {
  if (!isObject(value)) throw refusal(code, [{ pointer: '', detail: 'The body is no JSON object' }]);
  const unfit = findUnfitMembers(value, metatype);
  if (unfit.length > 0) throw refusal(code, unfit);
  const instance: unknown = plainToInstance(metatype, value);
  if (!isObject(instance)) throw new Error('a body or query must be described by a class');
  const errors = fieldProblems(await validate(instance, RULES), '');
  if (errors.length > 0) throw refusal(code, errors);
  return instance;
}

function refusal(code: 'invalid-body' | 'invalid-query', errors: readonly FieldProblem[]): ProblemError {
  const [first] = errors;
  const more = errors.length > 1 ? ` (and ${errors.length - 1} more, see errors)` : '';
  const detail = `${first?.pointer ?? ''} ${first?.detail ?? 'is wrong'}`.trim().replace(/\.$/, '');
  return new ProblemError(code, `${detail}${more}.`, { errors: errors.slice(0, MOST_TOLD) });
}

/** class-validator's tree of errors as a flat list, one a field: the first rule that it breaks, or that it is missing. */
function fieldProblems(errors: readonly ValidationError[], parent: string): FieldProblem[] {
  return errors.flatMap((error) => {
    const pointer = parent + pointerToken(error.property);
    const broken = Object.entries(error.constraints ?? {}).slice(-1);
    const own = broken.map(([rule, message]) => {
      if (rule === 'whitelistValidation') return { pointer, detail: 'is not known here' };
      return { pointer, detail: error.value === undefined ? 'is missing' : withoutName(message, error) };
    });
    return [...own, ...fieldProblems(error.children ?? [], pointer)];
  });
}

/** The pointer names the field already. */
function withoutName(message: string, { property }: ValidationError): string {
  return message.startsWith(`${property} `) ? message.slice(property.length + 1) : message;
}

function isObject(value: unknown): value is object {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function isBuiltIn(metatype: NonNullable<ArgumentMetadata['metatype']>): boolean {
  return [String, Number, Boolean, Array, Object].some((builtIn) => builtIn === metatype);
}
