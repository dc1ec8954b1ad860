import fc from 'fast-check';
import { sliceList } from './slice-list.js';
import { findJsonFaults, MOST_NESTED } from './strict-json.js';

function itemsOf(text: string): readonly string[] {
  const list = sliceList(text);
  if ('broken' in list) throw new Error(list.broken);
  return list.items;
}

describe('what two readers of a JSON text could take differently', () => {
  it('finds nothing in text that JSON.stringify wrote of safe numbers, whatever else is in it', () => {
    const safe = (_key: string, value: unknown): unknown =>
      typeof value === 'number' && Math.abs(value) > Number.MAX_SAFE_INTEGER ? 0 : value;
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 4, stringUnit: 'binary' }), fc.nat(3), (value, indent) => {
        expect(findJsonFaults(JSON.stringify(value, safe, indent))).toEqual([]);
      }),
    );
  });

  it('finds exactly the keys that JSON.parse would drop', () => {
    const member = fc.tuple(
      fc.constantFrom('a', 'b', '__proto__', 'x/y', 'ü'),
      fc.constantFrom('1', '"a"', '{}', '[{"a":1}]'),
    );
    fc.assert(
      fc.property(fc.array(member, { maxLength: 8 }), (members) => {
        const text = `{ ${members.map(([key, value]) => `${JSON.stringify(key)} : ${value}`).join(' , ')} }`;
        const kept = Object.keys(JSON.parse(text) as object).length;
        expect(findJsonFaults(text)).toHaveLength(members.length - kept);
      }),
    );
  });

  it('tells keys by what they say, not by how they are spelt', () => {
    expect(findJsonFaults('{"heat":{"peakC":1,"p\\u0065akC":2}}')).toEqual([
      { pointer: '/heat/peakC', detail: 'The member "peakC" is given more than once.' },
    ]);
    expect(findJsonFaults('[{"a":1},{"a":1,"b":{"a":1}}]')).toEqual([]);
  });

  it('points at lists by index and escapes what a pointer escapes', () => {
    expect(findJsonFaults('{"a/b":[0,{"~":[1e999]}]}').map(({ pointer }) => pointer)).toEqual(['/a~1b/1/~0/0']);
  });

  it('finds numbers that are not read as written', () => {
    const wrong = ['9007199254740992', '-9007199254740993', '1e400', '-1E+309', '123456789012345678901234567890'];
    for (const number of wrong) expect(findJsonFaults(`[0,${number}]`).map(({ pointer }) => pointer)).toEqual(['/1']);
    const right = ['9007199254740991', '-9007199254740991', '0.1000000000000000055', '1e-9', '12.50', '-0', '1E3'];
    for (const number of right) expect(findJsonFaults(`[${number}]`)).toEqual([]);
  });

  it('stops at what is nested too deep, and takes what is not', () => {
    const nested = (depth: number): string => '['.repeat(depth) + ']'.repeat(depth);
    expect(findJsonFaults(nested(MOST_NESTED))).toEqual([]);
    expect(findJsonFaults(nested(MOST_NESTED + 1))).toHaveLength(1);
    expect(findJsonFaults(nested(1_000_000))).toHaveLength(1);
  });

  it('stops counting at the most that it was asked for', () => {
    expect(findJsonFaults(`[${'1e999,'.repeat(1000)}0]`)).toHaveLength(20);
  });
});

describe('cutting a list into its items', () => {
  it('gives the items of any list that JSON.stringify wrote', () => {
    fc.assert(
      fc.property(fc.array(fc.jsonValue({ maxDepth: 4 })), fc.nat(2), (values, indent) => {
        const items = itemsOf(` ${JSON.stringify(values, null, indent)}\r\n`);
        expect(items.map((item): unknown => JSON.parse(item))).toEqual(JSON.parse(JSON.stringify(values)));
      }),
    );
  });

  it('never takes for good what JSON.parse refuses as a whole', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: fc.constantFrom('[', ']', '{', '}', ',', ':', '"', '\\', '1', 'a', ' '), maxLength: 24 }),
        (text) => {
          const list = sliceList(text);
          const isGood = !('broken' in list) && list.items.every(isJson);
          expect(isGood).toBe(isJson(text) && Array.isArray(JSON.parse(text)));
        },
      ),
      { numRuns: 3000 },
    );
  });

  it('lets an unreadable item spoil only itself', () => {
    expect(itemsOf('[{"a":1}, {"a":, }, nonsense, {"b":"]"}]')).toEqual([
      '{"a":1}',
      ' {"a":, }',
      ' nonsense',
      ' {"b":"]"}',
    ]);
    expect(itemsOf('[1,,2,]')).toEqual(['1', '', '2', '']);
    expect(itemsOf(' [ ] ')).toEqual([]);
  });

  it.each(['', '{}', '[1', '["a]', '[{]}', '[1]]', '[1] 2', '1,[2]', '[{"a":"x"y"}]'])(
    'says what is broken in %s',
    (text) => {
      expect(sliceList(text)).toHaveProperty('broken');
    },
  );
});

function isJson(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}
