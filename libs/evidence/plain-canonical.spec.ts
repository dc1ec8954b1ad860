import canonicalize from 'canonicalize';
import fc from 'fast-check';
import { canonicalJson } from './canonical-json.js';
import { plainCanonical } from './plain-canonical.js';

const key = fc.oneof(
  fc.constantFrom(
    '',
    'a',
    'b',
    'B',
    'toJSON',
    '__proto__',
    '0',
    '10',
    '9',
    '\ud83d\ude00',
    '\ufb33',
    '\ud800',
    '\\ud',
    '€',
  ),
  fc.string({ unit: 'binary', maxLength: 3 }),
);
const leaf = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 4 }),
  fc.constantFrom('\udc00', '\\ud800', '"', '\u2028', '\u007f'),
  fc.double(),
  fc.maxSafeInteger(),
  fc.constantFrom(-0, 1e21, null, true, false, undefined, NaN),
  fc.constantFrom<unknown>(new Date(0), new Map([[1, 2]]), new String('ab'), new Number(1), Symbol('s'), 1n, {
    toJSON: () => ({ b: 1, a: 2 }),
  }),
);

/** Whatever a program may hand over, members in any order. */
const { anything } = fc.letrec<{ anything: unknown }>((tie) => ({
  anything: fc.oneof(
    { maxDepth: 4 },
    leaf,
    fc.array(tie('anything'), { maxLength: 4 }),
    fc.dictionary(key, tie('anything'), { maxKeys: 6 }),
    fc.uniqueArray(key, { maxLength: 30 }).map((keys) => Object.fromEntries(keys.map((name, n) => [name, n]))),
  ),
}));

function outcome(write: () => string | undefined): string | undefined {
  try {
    return write();
  } catch {
    return 'refused';
  }
}

describe('plainCanonical', () => {
  it('writes what the library writes, or leaves it to the library', () => {
    fc.assert(
      fc.property(anything, (value) => {
        const text = plainCanonical(value);
        if (text !== undefined) expect(text).toBe(outcome(() => canonicalize(value)));
        expect(outcome(() => canonicalJson(value))).toBe(outcome(() => canonicalize(value)) ?? 'refused');
      }),
      { numRuns: 2000 },
    );
  });

  it('leaves nothing that stations or the book say to the library', () => {
    const name = fc.string({ unit: 'grapheme', maxLength: 3 }).map((text) => `k${text}`);
    const { said } = fc.letrec<{ said: unknown }>((tie) => ({
      said: fc.oneof(
        { maxDepth: 4 },
        fc.string({ unit: 'grapheme', maxLength: 4 }).filter((text) => !text.includes('\\ud')),
        fc.double({ noNaN: true, noDefaultInfinity: true }),
        fc.constantFrom(null, true, undefined),
        fc.array(tie('said'), { maxLength: 3 }),
        fc.dictionary(name, tie('said'), { maxKeys: 30 }),
      ),
    }));
    fc.assert(
      fc.property(fc.record({ said }), (value) => {
        expect(plainCanonical(value)).toBe(canonicalize(value));
      }),
    );
  });

  it('leaves what it was given as it was', () => {
    const value = { b: [{ d: 1, c: 2 }], a: { z: { y: 1, x: 2 } } };
    expect(plainCanonical(value)).toBe('{"a":{"z":{"x":2,"y":1}},"b":[{"c":2,"d":1}]}');
    expect(JSON.stringify(value)).toBe('{"b":[{"d":1,"c":2}],"a":{"z":{"y":1,"x":2}}}');
  });

  it('leaves circles and depths to the library', () => {
    const circle: Record<string, unknown> = {};
    circle['self'] = circle;
    expect(plainCanonical(circle)).toBeUndefined();
    expect(() => canonicalJson(circle)).toThrow('Circular');
    let deep: unknown = 1;
    for (let n = 0; n < 100_000; n += 1) deep = [deep];
    expect(() => canonicalJson(deep)).toThrow(RangeError);
  });
});
