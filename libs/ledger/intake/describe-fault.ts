import type { DefinedError, ErrorObject } from 'ajv/dist/2020.js';
import { EVENT_MEMBERS, EXTENSION_PATTERN, ID_PATTERN, SOURCE_PATTERN } from './event-schema.js';
import { SAFE_NAME_PATTERN } from './field-schemas.js';
import { pointerToken } from './json-pointer.js';
import { nearestWord } from './nearest-word.js';
import { Fault } from './problems.js';
import { shortened } from './shortened.js';

const TYPES: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  integer: 'a whole number',
  boolean: 'true or false',
  object: 'an object',
  array: 'a list',
};

const NAME_WORDS = 'which is 1 to 64 of A-Z a-z 0-9 . _ : - and not __proto__, . or ..';

const PATTERNS: Readonly<Record<string, string>> = {
  [SAFE_NAME_PATTERN]: `a name, ${NAME_WORDS}`,
  [SOURCE_PATTERN]: `/stations/ and the name of a station, ${NAME_WORDS}`,
  [ID_PATTERN]: 'printable characters only',
};

const FORMATS: Readonly<Record<string, string>> = {
  'date-time': 'a time with date and offset, as 2031-05-09T14:03:27+02:00 (RFC 3339), that is in the calendar',
  uri: 'an absolute URI (RFC 3986)',
};

type Members = Readonly<Record<string, { readonly description?: string }>>;

/** Says in a sentence what a failed keyword of an event's schema means. The error must come from a verbose validator. */
export function describeFault(error: ErrorObject): Fault {
  // Ajv types its errors loosely, but these are the shapes of its own keywords, and the schemas use no others.
  const known = error as DefinedError;
  const members = (error.parentSchema?.['properties'] ?? {}) as Members;
  if (known.keyword === 'required') {
    const missing = known.params.missingProperty;
    return { pointer: error.instancePath + pointerToken(missing), detail: missingMember(missing, members) };
  }
  if (known.keyword === 'additionalProperties') {
    const unknown = known.params.additionalProperty;
    const isTop = error.instancePath === '';
    return {
      pointer: error.instancePath + pointerToken(unknown),
      detail: isTop ? unknownAttribute(unknown) : unknownMember(unknown, Object.keys(members)),
    };
  }
  const description = error.parentSchema?.['description'] as string | undefined;
  const about = description === undefined ? '' : ` (${description})`;
  return {
    pointer: error.instancePath,
    detail: `Expected ${expectation(known)}${about}, but got ${shown(error.data)}.`,
  };
}

function expectation(error: DefinedError): string {
  switch (error.keyword) {
    case 'type':
      return [error.params.type].flat().map(typeWord).join(' or ');
    case 'enum':
      return anyOf(error.params.allowedValues);
    case 'const':
      return anyOf([error.params.allowedValue]);
    case 'pattern':
      return PATTERNS[error.params.pattern] ?? `text that fits ${error.params.pattern}`;
    case 'format':
      return FORMATS[error.params.format] ?? error.params.format;
    case 'minimum':
    case 'maximum':
      return `a number ${error.keyword === 'minimum' ? 'from' : 'up to'} ${error.params.limit}`;
    case 'minLength':
      return `at least ${plural(error.params.limit, 'character')}`;
    case 'maxLength':
      return `at most ${plural(error.params.limit, 'character')}`;
    case 'maxItems':
      return `at most ${plural(error.params.limit, 'item')}`;
    case 'maxProperties':
      return `at most ${plural(error.params.limit, 'member')}`;
    default:
      return `something else: ${error.message ?? error.keyword}`;
  }
}

function missingMember(name: string, members: Members): string {
  const description = members[name]?.description;
  return `The member "${name}" is missing${description === undefined ? '' : ` (${description})`}.`;
}

function unknownMember(name: string, known: readonly string[]): string {
  const nearest = nearestWord(name, known);
  const hint = nearest === undefined ? '' : ` Did you mean "${nearest}"?`;
  return `There is no member "${shortened(name)}" here.${hint} Members are: ${known.join(', ')}.`;
}

function unknownAttribute(name: string): string {
  if (name === 'data_base64') return 'Binary data is not taken: send the facts as a JSON object in "data".';
  const nearest = new RegExp(EXTENSION_PATTERN).test(name) ? undefined : nearestWord(name, EVENT_MEMBERS);
  const hint = nearest === undefined ? '' : ` Did you mean "${nearest}"?`;
  return (
    `An event has no member "${shortened(name)}".${hint} It has ${EVENT_MEMBERS.join(', ')}, and extension attributes, ` +
    'whose names are 1 to 20 of a-z 0-9; what the station has to tell belongs into "data".'
  );
}

function typeWord(type: string): string {
  return TYPES[type] ?? type;
}

function anyOf(values: readonly unknown[]): string {
  return values.map((value) => JSON.stringify(value)).join(' or ');
}

function plural(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}

/** What came instead, short enough to be read. */
export function shown(value: unknown): string {
  if (typeof value === 'string') {
    return value.length > 60 ? `a text of ${value.length} characters: "${shortened(value)}"` : `"${value}"`;
  }
  if (Array.isArray(value)) return `a list of ${plural(value.length, 'item')}`;
  return typeof value === 'object' && value !== null ? 'an object' : String(value);
}
