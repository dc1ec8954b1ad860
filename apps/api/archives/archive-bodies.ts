import { ArrayMaxSize, ArrayMinSize, IsArray, IsIn } from 'class-validator';
import { isName, NAME_PATTERN } from '../../../libs/domain/subject/names.js';
import { AUDIT_FORMAT_NAMES, AuditFormatName } from '../../../libs/evidence/audit-formats.js';
import { MOST_UNITS } from '../../../libs/ledger/archives/archive-bounds.js';
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

/** Looked at here rather than as objects with a class each: ten thousand of those keep everybody else waiting for half a second. */
function areUnits(value: unknown): boolean {
  return Array.isArray(value) && value.every(isUnit);
}

function isUnit(value: unknown): boolean {
  if (typeof value !== 'object' || value === null || !areNames(Object.values(value))) return false;
  return Object.keys(value).sort().join() === 'assembly,serial';
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
    Rule('areUnits', areUnits, 'must be a list of {assembly, serial}, each a name, and nothing beside them'),
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

/** @throws ProblemError invalid-body where not exactly one way of naming units is taken */
export function unitsIn({ assembly, serials, units }: ArchiveBody): ArchiveWish['units'] {
  if (units !== undefined) {
    if (assembly !== undefined) throw eitherOr('/assembly', 'must be left out beside units, which name their own');
    if (serials !== undefined) throw eitherOr('/serials', 'must be left out beside units');
    return units.map(({ assembly: of, serial }) => ({ assembly: of, serial }));
  }
  if (assembly === undefined) throw eitherOr('/assembly', 'must be given, unless units are');
  return serials === undefined ? { assembly } : serials.map((serial) => ({ assembly, serial }));
}

function eitherOr(pointer: string, detail: string): ProblemError {
  const way = 'Send assembly (every unit of it), assembly and serials, or units: [{assembly, serial}].';
  return new ProblemError('invalid-body', way, { errors: [{ pointer, detail }] });
}
