import { ArrayMaxSize, ArrayMinSize, IsArray, IsIn } from 'class-validator';
import { isName, NAME_PATTERN } from '../../../libs/domain/subject/names.js';
import { AUDIT_FORMAT_NAMES, AuditFormatName } from '../../../libs/evidence/audit-formats.js';
import { MOST_UNITS } from '../../../libs/ledger/archives/archive-bounds.js';
import { pointerToken } from '../../../libs/ledger/intake/json-pointer.js';
import type { ArchiveWish } from '../../../libs/ledger/archives/start-archive.js';
import { Field, NameField, Rule } from '../http/fields.js';
import { ProblemError } from '../http/problem.js';
import { LongLists } from '../http/unfit-members.js';

/** Checkpoints that one reader asks about at once. */
const MOST_SINCE = 10;

class ArchiveUnitBody {
  @NameField()
  readonly assembly!: string;

  @NameField()
  readonly serial!: string;
}

function areNames(value: unknown): boolean {
  return Array.isArray(value) && value.every((one) => typeof one === 'string' && isName(one));
}

function areSizes(value: unknown): boolean {
  return Array.isArray(value) && value.every((one) => Number.isSafeInteger(one) && Number(one) > 0);
}

/** Which units an archive is of: of one assembly, by serial or all of them, or of several, by name. */
@LongLists(MOST_UNITS)
export class ArchiveBody {
  @NameField({ optional: true, description: 'Whose units: those of serials, or all that you may see.' })
  readonly assembly?: string;

  @Field(
    { optional: true },
    {
      type: 'array',
      items: { type: 'string', pattern: NAME_PATTERN },
      minItems: 1,
      maxItems: MOST_UNITS,
      description: 'Beside assembly. One named twice is taken once.',
    },
    IsArray(),
    ArrayMinSize(1),
    ArrayMaxSize(MOST_UNITS),
    Rule('areNames', areNames, 'must be a list of serials'),
  )
  readonly serials?: readonly string[];

  @Field(
    { optional: true },
    {
      type: () => ArchiveUnitBody,
      isArray: true,
      minItems: 1,
      maxItems: MOST_UNITS,
      description: 'Units of several assemblies, in place of assembly and serials.',
    },
    IsArray(),
    ArrayMinSize(1),
    ArrayMaxSize(MOST_UNITS),
  )
  readonly units?: readonly ArchiveUnitBody[];

  @Field(
    { optional: true },
    {
      type: String,
      isArray: true,
      enum: AUDIT_FORMAT_NAMES,
      maxItems: AUDIT_FORMAT_NAMES.length,
      description: 'Beside json, which is always there.',
    },
    IsArray(),
    ArrayMaxSize(AUDIT_FORMAT_NAMES.length),
    IsIn(AUDIT_FORMAT_NAMES, { each: true, message: `must only name ${AUDIT_FORMAT_NAMES.join(', ')}` }),
  )
  readonly formats?: readonly AuditFormatName[];

  @Field(
    { optional: true },
    {
      type: 'array',
      items: { type: 'integer', minimum: 1 },
      maxItems: MOST_SINCE,
      description: 'Sizes of checkpoints that you have kept: each history then proves that the log only grew since.',
    },
    IsArray(),
    ArrayMaxSize(MOST_SINCE),
    Rule('areSizes', areSizes, 'must be sizes of checkpoints: whole numbers from 1'),
  )
  readonly since?: readonly number[];
}

const WRONG_NAME = 'must be 1 to 64 characters of A-Z a-z 0-9 . _ : - (and not __proto__, . or ..)';

/**
 * Looked at here rather than as objects with a class each: ten thousand of those keep everybody else waiting for half a second.
 * @throws ProblemError invalid-body where one is no unit
 */
function checkUnit(unit: unknown, pointer: string): void {
  if (typeof unit !== 'object' || unit === null) throw noUnit(pointer, 'must be an object');
  const members = new Map<string, unknown>(Object.entries(unit));
  for (const member of ['assembly', 'serial']) {
    const name = members.get(member);
    if (!areNames([name])) throw noUnit(`${pointer}/${member}`, name === undefined ? 'is missing' : WRONG_NAME);
    members.delete(member);
  }
  const [other] = members.keys();
  if (other !== undefined) throw noUnit(pointer + pointerToken(other), 'is not known here');
}

function noUnit(pointer: string, detail: string): ProblemError {
  return new ProblemError('invalid-body', `${pointer} ${detail}.`, { errors: [{ pointer, detail }] });
}

/** @throws ProblemError invalid-body where not exactly one way of naming units is taken, or one of them is none */
export function unitsIn({ assembly, serials, units }: ArchiveBody): ArchiveWish['units'] {
  if (units !== undefined) {
    if (assembly !== undefined) throw eitherOr('/assembly', 'must be left out beside units, which name their own');
    if (serials !== undefined) throw eitherOr('/serials', 'must be left out beside units');
    for (const [n, unit] of units.entries()) checkUnit(unit, `/units/${String(n)}`);
    return units.map(({ assembly: of, serial }) => ({ assembly: of, serial }));
  }
  if (assembly === undefined) throw eitherOr('/assembly', 'must be given, unless units are');
  return serials === undefined ? { assembly } : serials.map((serial) => ({ assembly, serial }));
}

function eitherOr(pointer: string, detail: string): ProblemError {
  const way = 'Send assembly (every unit of it), assembly and serials, or units: [{assembly, serial}].';
  return new ProblemError('invalid-body', way, { errors: [{ pointer, detail }] });
}
