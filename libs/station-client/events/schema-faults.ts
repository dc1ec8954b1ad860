import { EventFault } from '../event-fault.js';
import { SHARED_SCHEMAS } from './event-schemas.js';
import { isEventTime } from './event-time.js';
import { Schema } from './schema.js';

const PATTERN_WORDS: readonly (readonly [string, string])[] = [
  ['^/stations/', '/stations/ and the name of a station, which is 1 to 64 of A-Z a-z 0-9 . _ : -'],
  ['[A-Za-z0-9._:-]', 'a name, which is 1 to 64 of A-Z a-z 0-9 . _ : -'],
  ['\\p{Cc}', 'printable characters only'],
];
const patterns = new Map<string, RegExp>();

/** Where a value does not fit a schema: pointers into the value, and what was expected there. */
export function schemaFaults(value: unknown, given: Schema, pointer = ''): EventFault[] {
  const schema = resolved(given);
  const expected = expectation(value, schema);
  if (expected !== undefined) {
    const about = schema.description === undefined ? '' : ` (${schema.description})`;
    return [{ pointer, detail: `Expected ${expected}${about}, but got ${shown(value)}.` }];
  }
  if (Array.isArray(value)) {
    const { items } = schema;
    return items === undefined ? [] : value.flatMap((item, n) => schemaFaults(item, items, `${pointer}/${String(n)}`));
  }
  return isObject(value) ? memberFaults(value, schema, pointer) : [];
}

export function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** What came, short enough to be read. */
export function shown(value: unknown): string {
  if (typeof value === 'string')
    return value.length > 60 ? `a text of ${String(value.length)} characters` : `"${value}"`;
  if (Array.isArray(value)) return `a list of ${String(value.length)}`;
  return isObject(value) ? 'an object' : String(value);
}

function memberFaults(value: Readonly<Record<string, unknown>>, schema: Schema, pointer: string): EventFault[] {
  const { properties = {}, patternProperties = {}, required = [], additionalProperties } = schema;
  const missing = required
    .filter((name) => value[name] === undefined || !Object.hasOwn(value, name))
    .map((name) => ({ pointer: `${pointer}/${name}`, detail: missingMember(name, properties[name]) }));
  const others = Object.entries(value).flatMap(([name, member]): EventFault[] => {
    // JSON leaves it out.
    if (member === undefined) return [];
    const place = `${pointer}/${name.replaceAll('~', '~0').replaceAll('/', '~1')}`;
    const own = Object.hasOwn(properties, name) ? properties[name] : undefined;
    const fitting = own ?? Object.entries(patternProperties).find(([pattern]) => regExp(pattern).test(name))?.[1];
    if (fitting !== undefined) return schemaFaults(member, fitting, place);
    if (additionalProperties !== false) return [];
    return [{ pointer: place, detail: `There is no such member. Members are: ${Object.keys(properties).join(', ')}.` }];
  });
  return [...missing, ...others];
}

function missingMember(name: string, schema: Schema | undefined): string {
  const { description } = schema === undefined ? {} : resolved(schema);
  return `The member "${name}" is missing${description === undefined ? '' : ` (${description})`}.`;
}

/** What a value should have been; undefined where it is that, its members and items aside. */
function expectation(value: unknown, schema: Schema): string | undefined {
  const types = [schema.type ?? []].flat();
  if (types.length > 0 && !types.some((type) => isOfType(value, type))) return types.join(' or ');
  if (schema.const !== undefined && value !== schema.const) return JSON.stringify(schema.const);
  if (schema.enum !== undefined && !schema.enum.includes(value)) {
    return schema.enum.map((word) => JSON.stringify(word)).join(' or ');
  }
  if (typeof value === 'number') return numberExpectation(value, schema);
  if (typeof value === 'string') return textExpectation(value, schema);
  const { maxItems = Infinity, maxProperties = Infinity } = schema;
  if (Array.isArray(value) && value.length > maxItems) return `at most ${String(maxItems)} items`;
  if (isObject(value) && Object.keys(value).length > maxProperties) return `at most ${String(maxProperties)} members`;
  return undefined;
}

function numberExpectation(value: number, { minimum = -Infinity, maximum = Infinity }: Schema): string | undefined {
  if (value < minimum) return `a number from ${String(minimum)}`;
  return value > maximum ? `a number up to ${String(maximum)}` : undefined;
}

function textExpectation(value: string, schema: Schema): string | undefined {
  const { minLength = 0, maxLength = Infinity, pattern, format } = schema;
  const length = value.length > maxLength || value.length < minLength ? Array.from(value).length : value.length;
  if (length < minLength) return `at least ${String(minLength)} character`;
  if (length > maxLength) return `at most ${String(maxLength)} characters`;
  if (pattern !== undefined && !regExp(pattern).test(value)) {
    return PATTERN_WORDS.find(([part]) => pattern.includes(part))?.[1] ?? `text that fits ${pattern}`;
  }
  if (format === 'date-time' && !isEventTime(value))
    return 'a time with offset, as 2031-05-09T14:03:27+02:00 (RFC 3339)';
  if (format === 'uri' && !URL.canParse(value)) return 'an absolute URI';
  return undefined;
}

function isOfType(value: unknown, type: string): boolean {
  switch (type) {
    case 'object':
      return isObject(value);
    case 'array':
      return Array.isArray(value);
    case 'integer':
      return Number.isInteger(value);
    case 'number':
      return Number.isFinite(value);
    default:
      return typeof value === type;
  }
}

function resolved(schema: Schema): Schema {
  return schema.$ref === undefined ? schema : (SHARED_SCHEMAS[schema.$ref] ?? {});
}

function regExp(pattern: string): RegExp {
  const known = patterns.get(pattern) ?? new RegExp(pattern, 'u');
  patterns.set(pattern, known);
  return known;
}
