import fc from 'fast-check';
import { isPlainJson } from './plain-json.js';
import { readBatch } from './read-events.js';
import { cleanedEvent } from './spec-support/sample-events.js';
import { findJsonFaults, MOST_NESTED } from './strict-json.js';

const KEYS = ['a', 'b', '":', 'x\\', '__proto__', '7', 'ü'];
const NUMBERS = ['0', '-0', '1.50', '9007199254740991', '9007199254740992', '-1e16', '1e400', '123456789012345678'];

/** JSON text with blanks, keys given twice and numbers that are not safe, none of which JSON.stringify would write. */
const jsonText = fc.letrec<{ value: string; list: string; object: string }>((tie) => ({
  value: fc.oneof(
    { depthSize: 'small' },
    fc.constantFrom('null', 'true', ...NUMBERS),
    fc.constantFrom('', ':', '{"a":1}', '\\', '"', '\u2028').map((text) => JSON.stringify(text)),
    tie('list'),
    tie('object'),
  ),
  list: fc.array(tie('value'), { maxLength: 4 }).map((items) => `[ ${items.join(' ,')} ]`),
  object: fc
    .array(fc.tuple(fc.constantFrom(...KEYS), tie('value')), { maxLength: 4 })
    .map((members) => `{${members.map(([key, value]) => `${JSON.stringify(key)} : ${value}`).join(', ')}}`),
}));

describe('the quick look at a JSON text', () => {
  it('finds a text plain exactly where the slow one finds no fault', () => {
    fc.assert(
      fc.property(jsonText.value, (text) => {
        expect(isPlainJson(text, JSON.parse(text), MOST_NESTED)).toBe(findJsonFaults(text).length === 0);
      }),
      { numRuns: 3000 },
    );
  });

  it('knows keys by what they say, not by how they are spelt', () => {
    const text = '{"heat":{"peakC":1,"p\\u0065akC":2}}';
    expect(isPlainJson(text, JSON.parse(text), MOST_NESTED)).toBe(false);
  });

  it('stops at what is nested too deep, and takes what is not', () => {
    for (const depth of [MOST_NESTED, MOST_NESTED + 1, 100_000]) {
      const text = '['.repeat(depth) + ']'.repeat(depth);
      expect(isPlainJson(text, JSON.parse(text), MOST_NESTED)).toBe(depth <= MOST_NESTED);
    }
  });
});

describe('a batch that is read at once', () => {
  it('is read as it would be item by item', () => {
    const good = fc.nat(9).map((id) => JSON.stringify(cleanedEvent(String(id))));
    const item = fc.oneof(good, good, jsonText.value, jsonText.object, fc.constant(deep(MOST_NESTED)));
    fc.assert(
      fc.property(fc.array(item, { maxLength: 5 }), (items) => {
        const [whole, cut] = [readBatch(`[${items.join(',')}]`), readBatch(`[${[...items, '!'].join(',')}]`)];
        if (!whole.ok || !cut.ok) throw new Error('a list is no batch');
        // The item that is no JSON makes the other reading go item by item.
        expect(whole.items).toEqual(cut.items.slice(0, -1));
      }),
      { numRuns: 1000 },
    );
  });
});

function deep(levels: number): string {
  return '{"a":'.repeat(levels) + '1' + '}'.repeat(levels);
}
