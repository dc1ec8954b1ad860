import { Type, TSchema, TUnsafe, SchemaOptions } from '@sinclair/typebox';
import { NAME_PATTERN } from '../../domain/subject/names.js';

/** `isName` as one pattern: what fits NAME_PATTERN, less the names that mean something else where names are used. */
export const SAFE_NAME_PATTERN = NAME_PATTERN.replace('^', '^(?!(?:__proto__|\\.{1,2})$)');

/** A number of seconds, minutes or counts that no bench reaches; it only keeps the column types honest. */
const LONGEST_S = 10_000_000;

/** A name: of a site, a device, a part, an alloy and the like. */
export function name(description: string) {
  return Type.String({ pattern: SAFE_NAME_PATTERN, description });
}

/** A line of text as a label or a work order bears it. */
export function line(description: string, maxLength = 128) {
  return Type.String({ minLength: 1, maxLength, description });
}

/** RFC 3339 with offset. */
export function time(description: string) {
  return Type.String({ format: 'date-time', maxLength: 64, description: `${description}, RFC 3339 with offset` });
}

/** One of a few words. */
export function oneOf<const T extends string>(words: readonly T[], description: string): TUnsafe<T> {
  return Type.Unsafe<T>({ type: 'string', enum: [...words], description });
}

/** From absolute zero to beyond what a channel without a thermocouple reads (1372 and 1768 C are the ends of types K and R). */
export function celsius(description: string) {
  return Type.Number({ minimum: -273.15, maximum: 2000, description: `${description}, C` });
}

export function seconds(description: string) {
  return Type.Number({ minimum: 0, maximum: LONGEST_S, description: `${description}, s` });
}

/** Either sign, and steep: a channel that comes loose steps by a thousand degrees between two samples. */
export function slope(description: string) {
  return Type.Number({ minimum: -1_000_000, maximum: 1_000_000, description: `${description}, C/s` });
}

/** Share of a mass, %. */
export function weightPct(description: string) {
  return Type.Number({ minimum: 0, maximum: 100, description: `${description}, wt%` });
}

/** As the sensor reads it, and sensors stray a little over both ends of the scale. */
export function humidityPct() {
  return Type.Number({
    minimum: -5,
    maximum: 110,
    description: 'Relative humidity of the air as the sensor reads it, %',
  });
}

export function count(description: string, minimum = 0) {
  return Type.Integer({ minimum, maximum: 1000, description });
}

/** A length, a volume or a speed that cannot be negative. The unit is part of the description. */
export function amount(description: string, maximum: number) {
  return Type.Number({ minimum: 0, maximum, description });
}

/** A measured height or place, which may lie on either side of its zero. */
export function offset(description: string, most: number) {
  return Type.Number({ minimum: -most, maximum: most, description });
}

/** A bounded list. */
export function list<T extends TSchema>(items: T, maxItems: number, description: string) {
  return Type.Array(items, { maxItems, description });
}

/** An object with these members and no others. */
export function record<T extends Record<string, TSchema>>(members: T, options: SchemaOptions = {}) {
  return Type.Object(members, { additionalProperties: false, ...options });
}
