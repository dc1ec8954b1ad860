import { Static, TSchema } from '@sinclair/typebox';
import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { STATION_EVENT_TYPES, StationEventData, StationEventType } from '../../domain/events/station-event.js';
import { isName } from '../../domain/subject/names.js';
import { EVENT_DATA_SCHEMAS } from './event-data-schemas.js';
import { EVENT_SCHEMAS, stationEventJsonSchema } from './event-schema.js';
import { SAFE_NAME_PATTERN } from './field-schemas.js';
import { FULL_DATA, sampleEvent } from './spec-support/sample-events.js';

type Plain<T> = T extends readonly (infer Item)[]
  ? readonly Plain<Item>[]
  : T extends object
    ? { readonly [K in keyof T]: Plain<T[K]> }
    : T;
type Complete<T> = T extends readonly (infer Item)[]
  ? readonly Complete<Item>[]
  : T extends object
    ? { readonly [K in keyof T]-?: Complete<T[K]> }
    : T;
type Mutual<A, B> = [A] extends [B] ? ([B] extends [A] ? true : false) : false;
/** Completed as well, since a type that lacks an optional member is assignable to and from one that has it. */
type Same<A, B> = [Mutual<Plain<A>, Plain<B>>, Mutual<Complete<A>, Complete<B>>] extends [true, true] ? true : false;

/** What the comparison below must be able to see. */
const SEEN: readonly [
  Same<{ a: 1; b?: 2 }, { a: 1 }>,
  Same<{ a?: 1 }, { a: 1 }>,
  Same<{ a: { b?: 'x' | 'y' }[] }, { a: { b?: 'x' }[] }>,
  Same<{ a?: { b: 1 } }, { a?: { b: 1; c?: 2 } }>,
  Same<{ a: 1[]; b?: { c: 2 } }, { readonly a: readonly 1[]; readonly b?: { readonly c: 2 } }>,
] = [false, false, false, false, true];

/** Compiles only as long as the schemas and the types that the domain was written against say the same. */
const AGREEMENT: {
  readonly [T in StationEventType]: Same<Static<(typeof EVENT_DATA_SCHEMAS)[T]>, StationEventData[T]>;
} = Object.fromEntries(STATION_EVENT_TYPES.map((type) => [type, true])) as Record<StationEventType, true>;

describe('schemas of the station events', () => {
  it('agree with the types of the domain, and the samples set every member there is', () => {
    expect(SEEN).toContain(true);
    for (const type of STATION_EVENT_TYPES) {
      expect(AGREEMENT[type]).toBe(true);
      const known = Object.keys(EVENT_DATA_SCHEMAS[type].properties);
      for (const member of Object.keys(FULL_DATA[type])) expect(known).toContain(member);
    }
  });

  it('describe every member in words', () => {
    for (const type of STATION_EVENT_TYPES) {
      for (const member of Object.values(EVENT_SCHEMAS[type].properties)) {
        if (member.type !== 'object') expect(member.description).toMatch(/\w/);
      }
      for (const member of Object.values<TSchema>(EVENT_DATA_SCHEMAS[type].properties))
        expect(member.description).toMatch(/\w/);
    }
  });

  it('stand on their own as one JSON Schema that a stock validator takes', () => {
    const schema = stationEventJsonSchema();
    const validate = new Ajv2020({
      keywords: ['discriminator'],
      validateFormats: false,
      allowUnionTypes: true,
    }).compile(schema);
    for (const type of STATION_EVENT_TYPES) {
      expect(validate(sampleEvent(type))).toBe(true);
      expect(validate(sampleEvent(type, { id: '' }))).toBe(false);
      expect(validate(sampleEvent(type, { data: { surprise: 1 } }))).toBe(false);
    }
  });

  it('bound every text, list and number', () => {
    const unbounded: string[] = [];
    visit(stationEventJsonSchema(), '', (node, path) => {
      const isBounded =
        'enum' in node || 'const' in node || node['type'] === 'boolean' || node['pattern'] === SAFE_NAME_PATTERN;
      const bound = { string: 'maxLength', array: 'maxItems', number: 'maximum', integer: 'maximum' }[
        String(node['type'])
      ];
      if (bound !== undefined && !isBounded && !(bound in node) && node['pattern'] === undefined) unbounded.push(path);
    });
    expect(unbounded).toEqual([]);
  });

  it('take for a name what the domain takes for one', () => {
    const pattern = new RegExp(SAFE_NAME_PATTERN, 'u');
    const nameLike = fc.oneof(
      fc.string({
        unit: fc.constantFrom('a', 'Z', '0', '9', '.', '_', ':', '-', ' ', '/', '\n', '~', 'é'),
        maxLength: 70,
      }),
      fc.constantFrom('__proto__', '__proto__.', 'constructor', '', '.', '..', '...'),
    );
    fc.assert(
      fc.property(nameLike, (text) => {
        expect(pattern.test(text)).toBe(isName(text));
      }),
    );
  });
});

type Node = Record<string, unknown>;

function visit(node: unknown, path: string, see: (node: Node, path: string) => void): void {
  if (typeof node !== 'object' || node === null) return;
  if (!Array.isArray(node)) see(node as Node, path);
  for (const [key, member] of Object.entries(node)) visit(member, `${path}/${key}`, see);
}
