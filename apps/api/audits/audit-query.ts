import { Transform } from 'class-transformer';
import { ArrayMaxSize, IsArray } from 'class-validator';
import { AUDIT_FORMAT_NAMES } from '../../../libs/evidence/audit-formats.js';
import { Field, Rule, TextField } from '../http/fields.js';

/** Checkpoints that one reader asks about at once. */
const MOST_SINCE = 10;
const WHOLE = /^[1-9]\d{0,15}$/;

export class AuditQuery {
  @TextField({ optional: true, max: 20, description: `One of ${AUDIT_FORMAT_NAMES.join(', ')}; json unless told.` })
  readonly format?: string;

  @Field(
    { optional: true },
    {
      type: 'integer',
      isArray: true,
      minimum: 1,
      maxItems: MOST_SINCE,
      description:
        'Size of a checkpoint that you have kept, the second line of it. May be given several times. The export then proves that the log of that size is the beginning of the log as it is now.',
    },
    Transform(({ value }: { value: unknown }) => sizesOf(value)),
    IsArray(),
    ArrayMaxSize(MOST_SINCE),
    Rule('areSizes', areSizes, 'must be sizes of checkpoints: whole numbers from 1'),
  )
  readonly since?: readonly number[];
}

/** A parameter that is given once comes as one text. */
function sizesOf(value: unknown): unknown {
  const all: readonly unknown[] = Array.isArray(value) ? value : [value];
  return all.map((one) => (typeof one === 'string' && WHOLE.test(one) ? Number(one) : one));
}

function areSizes(value: unknown): boolean {
  return Array.isArray(value) && value.every((one) => Number.isSafeInteger(one));
}
