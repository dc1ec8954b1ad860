import { applyDecorators } from '@nestjs/common';
import { ApiProperty, ApiPropertyOptional, ApiPropertyOptions } from '@nestjs/swagger';
import { Type } from 'class-transformer';
import {
  ArrayMaxSize,
  IsArray,
  IsBoolean,
  IsIn,
  IsInt,
  IsObject,
  IsString,
  Matches,
  Max,
  MaxLength,
  Min,
  MinLength,
  ValidateBy,
  ValidateIf,
  ValidateNested,
} from 'class-validator';
import { isName, NAME_PATTERN } from '../../../libs/domain/subject/names.js';
import { isEventTime } from '../../../libs/ledger/intake/event-time.js';

/**
 * Field decorators for request bodies and queries: each one checks a field and describes it in the OpenAPI document, so
 * that the two cannot drift apart. Texts, lists and figures are bounded everywhere.
 */
export interface FieldOptions {
  /** The field may be left out. It may never be null. */
  readonly optional?: boolean;
  readonly description?: string;
}

/** A field with rules of its own; `property` describes it in the OpenAPI document. */
export function Field(
  { optional = false }: Pick<FieldOptions, 'optional'>,
  property: ApiPropertyOptions,
  ...checks: PropertyDecorator[]
): PropertyDecorator {
  if (!optional) return applyDecorators(ApiProperty(property), ...checks);
  const given = ValidateIf((_body: object, value: unknown) => value !== undefined);
  return applyDecorators(ApiPropertyOptional(property), given, ...checks);
}

function described({ description }: FieldOptions): { description?: string } {
  return description === undefined ? {} : { description };
}

/** A rule in one line; `wrong` completes "the field …". */
export function Rule(name: string, holds: (value: unknown) => boolean, wrong: string): PropertyDecorator {
  return ValidateBy({ name, validator: { validate: holds, defaultMessage: () => wrong } });
}

/** A name of 1 to 64 letters, digits and `._:-`. */
export function NameField(options: FieldOptions = {}): PropertyDecorator {
  const holds = (value: unknown): boolean => typeof value === 'string' && isName(value);
  const wrong = 'must be 1 to 64 characters of A-Z a-z 0-9 . _ : - (and not __proto__, . or ..)';
  return Field(options, { ...described(options), type: String, pattern: NAME_PATTERN }, Rule('isName', holds, wrong));
}

/** A text that is not blank, at most `max` UTF-16 units long. */
export function TextField(options: FieldOptions & { max?: number } = {}): PropertyDecorator {
  const { max = 500 } = options;
  return Field(
    options,
    { ...described(options), type: String, minLength: 1, maxLength: max },
    IsString(),
    MinLength(1),
    MaxLength(max),
    Matches(/\S/, { message: 'must not be blank' }),
  );
}

/** A finite number from `min` to `max`, both inclusive. */
export function NumberField(options: FieldOptions & { min: number; max: number }): PropertyDecorator {
  const { min, max } = options;
  return Field(
    options,
    { ...described(options), type: Number, minimum: min, maximum: max },
    Rule('isFinite', (value) => Number.isFinite(value), 'must be a number'),
    Min(min),
    Max(max),
  );
}

/** A number above 0 and up to `max`. */
export function PositiveField(options: FieldOptions & { max: number }): PropertyDecorator {
  const { max } = options;
  const holds = (value: unknown): boolean => typeof value === 'number' && Number.isFinite(value) && value > 0;
  return Field(
    options,
    { ...described(options), type: Number, minimum: 0, maximum: max },
    Rule('isPositive', holds, 'must be a number above 0'),
    Max(max),
  );
}

/** A whole number from `min` to `max`, both inclusive. */
export function CountField(options: FieldOptions & { min: number; max: number }): PropertyDecorator {
  const { min, max } = options;
  return Field(
    options,
    { ...described(options), type: 'integer', minimum: min, maximum: max },
    IsInt(),
    Min(min),
    Max(max),
  );
}

export function FlagField(options: FieldOptions = {}): PropertyDecorator {
  return Field(options, { ...described(options), type: Boolean }, IsBoolean());
}

export function OneOfField(values: readonly (string | number)[], options: FieldOptions = {}): PropertyDecorator {
  const message = `must be one of ${values.map((value) => JSON.stringify(value)).join(', ')}`;
  return Field(options, { ...described(options), enum: [...values] }, IsIn(values, { message }));
}

export function TimeField(options: FieldOptions = {}): PropertyDecorator {
  const holds = (value: unknown): boolean => typeof value === 'string' && isEventTime(value);
  const wrong = 'must be an RFC 3339 time with offset, such as 2030-01-31T08:00:00Z';
  return Field(options, { ...described(options), type: String, format: 'date-time' }, Rule('isTime', holds, wrong));
}

/** A list of at most `max` objects, each checked as its class says. */
export function ListField(
  item: () => new () => object,
  options: FieldOptions & { max: number; min?: number },
): PropertyDecorator {
  const { max, min = 0 } = options;
  const holds = (value: unknown): boolean => Array.isArray(value) && value.length >= min && value.every(isPlainObject);
  const wrong = min > 0 ? `must be a list of at least ${min} object` : 'must be a list of objects';
  return Field(
    options,
    { ...described(options), type: () => item(), isArray: true, minItems: min, maxItems: max },
    IsArray({ message: wrong }),
    // An element that is null would pass the nested check unseen.
    Rule('holdsObjects', holds, wrong),
    ArrayMaxSize(max),
    ValidateNested({ each: true }),
    Type(item),
  );
}

export function ObjectField(item: () => new () => object, options: FieldOptions = {}): PropertyDecorator {
  return Field(options, { ...described(options), type: () => item() }, IsObject(), ValidateNested(), Type(item));
}

function isPlainObject(value: unknown): boolean {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
