import fc from 'fast-check';
import { endsEarly, findJsonTextIssues } from './json-text.js';

describe('findJsonTextIssues', () => {
  it.each([
    ['{"a":1,"a":2}', ['a'], 'a'],
    ['{"b":[{},{"x":{"a":1,"c":[],"\\u0061":1}}]}', ['b', 1, 'x', 'a'], 'a'],
    ['{"__proto__":1,"__proto__":1}', ['__proto__'], '__proto__'],
    ['{"a\\"b":"}","a\\"b":"{"}', ['a"b'], 'a"b'],
    ['{"":0 , "" : 0}', [''], ''],
  ])('finds the key given twice in %s', (text, path, token) => {
    expect(findJsonTextIssues(text)).toEqual([{ kind: 'duplicate-key', path, token }]);
  });

  it.each([
    '9007199254740993',
    '-9007199254740993',
    '9007199254740993.0',
    '90071992547409930e-1',
    '1e400',
    '1e-400',
    '0.10000000000000000555',
    '123456789012345678901234567890',
  ])('finds that %s cannot be read exactly', (number) => {
    expect(findJsonTextIssues(`{"n":[0,${number}]}`)).toEqual([
      { kind: 'unsafe-number', path: ['n', 1], token: number },
    ]);
  });

  it.each([
    '0',
    '-0.0',
    '1.50',
    '9007199254740991',
    '9007199254740992',
    '100000000000000000000',
    '1e21',
    '1E+23',
    '0.10000000000000001',
    '2.5000000000000000000000',
    '0e5',
  ])('takes %s as it is', (number) => {
    expect(findJsonTextIssues(`[${number}]`)).toEqual([]);
  });

  it('finds nothing in what JSON.stringify writes', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.nat(4), (value, indent) => {
        expect(findJsonTextIssues(JSON.stringify(value, null, indent))).toEqual([]);
      }),
    );
  });

  it('does not mix up the same key in different objects, or keys and texts', () => {
    expect(findJsonTextIssues('[{"a":"a"},{"a":{"a":["a","a"]}}]')).toEqual([]);
  });
});

describe('endsEarly', () => {
  it.each(['', ' ', '{"a":"b', '{"a":"b\\', '[1,{"a":2}', '{"a":[1'])('is true for %j', (text) => {
    expect(endsEarly(text)).toBe(true);
  });

  it.each(['{"a":}', '{]', 'abc', '{"a":"]["}}'])('is false for %j', (text) => {
    expect(endsEarly(text)).toBe(false);
  });
});
