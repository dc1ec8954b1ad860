import fc from 'fast-check';
import { canonicalJson } from './canonical-json.js';

/** RFC 8785, appendix B: the IEEE 754 bits of a number and its canonical form. */
const APPENDIX_B: [bits: string, text: string][] = [
  ['0000000000000000', '0'],
  ['8000000000000000', '0'],
  ['0000000000000001', '5e-324'],
  ['8000000000000001', '-5e-324'],
  ['7fefffffffffffff', '1.7976931348623157e+308'],
  ['ffefffffffffffff', '-1.7976931348623157e+308'],
  ['4340000000000000', '9007199254740992'],
  ['c340000000000000', '-9007199254740992'],
  ['4430000000000000', '295147905179352830000'],
  ['44b52d02c7e14af5', '9.999999999999997e+22'],
  ['44b52d02c7e14af6', '1e+23'],
  ['44b52d02c7e14af7', '1.0000000000000001e+23'],
  ['444b1ae4d6e2ef4e', '999999999999999700000'],
  ['444b1ae4d6e2ef4f', '999999999999999900000'],
  ['444b1ae4d6e2ef50', '1e+21'],
  ['3eb0c6f7a0b5ed8c', '9.999999999999997e-7'],
  ['3eb0c6f7a0b5ed8d', '0.000001'],
  ['41b3de4355555553', '333333333.3333332'],
  ['41b3de4355555554', '333333333.33333325'],
  ['41b3de4355555555', '333333333.3333333'],
  ['41b3de4355555556', '333333333.3333334'],
  ['41b3de4355555557', '333333333.33333343'],
  ['becbf647612f3696', '-0.0000033333333333333333'],
  ['43143ff3c1cb0959', '1424953923781206.2'],
];

function fromBits(bits: string): number {
  const view = new DataView(new ArrayBuffer(8));
  view.setBigUint64(0, BigInt(`0x${bits}`));
  return view.getFloat64(0);
}

describe('canonicalJson as published vectors', () => {
  it.each(APPENDIX_B)('writes the number %s of RFC 8785 appendix B as %s', (bits, text) => {
    expect(canonicalJson(fromBits(bits))).toBe(text);
  });

  it.each(['7fffffffffffffff', '7ff0000000000000', 'fff0000000000000'])(
    'refuses %s (appendix B: NaN, infinities)',
    (bits) => {
      expect(() => canonicalJson(fromBits(bits))).toThrow();
    },
  );

  it('writes the example of RFC 8785 section 3.2.2', () => {
    const text = String.raw`{
      "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
      "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
      "literals": [null, true, false]
    }`;
    const expected = String.raw`{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`;
    expect(canonicalJson(JSON.parse(text))).toBe(expected);
    // Section 3.2.4: the same in UTF-8.
    const bytes =
      '7b226c69746572616c73223a5b6e756c6c2c747275652c66616c73655d2c226e756d62657273223a5b3333333333333333332e33333333' +
      '3333332c31652b33302c342e352c302e3030322c31652d32375d2c22737472696e67223a22e282ac245c75303030665c6e4127425c225c' +
      '5c5c5c5c222f227d';
    expect(Buffer.from(canonicalJson(JSON.parse(text))).toString('hex')).toBe(bytes);
  });

  it('orders keys by UTF-16 code unit, as the example of RFC 8785 section 3.2.3', () => {
    const unordered = {
      '\u20ac': 'Euro Sign',
      '\r': 'Carriage Return',
      '\ufb33': 'Hebrew Letter Dalet With Dagesh',
      '1': 'One',
      '\ud83d\ude00': 'Emoji: Grinning Face',
      '\u0080': 'Control',
      '\u00f6': 'Latin Small Letter O With Diaeresis',
    };
    expect(canonicalJson(unordered)).toBe(
      '{"\\r":"Carriage Return","1":"One","\u0080":"Control","ö":"Latin Small Letter O With Diaeresis",' +
        '"€":"Euro Sign","\ud83d\ude00":"Emoji: Grinning Face","\ufb33":"Hebrew Letter Dalet With Dagesh"}',
    );
  });
});

describe('canonicalJson', () => {
  it.each([
    ['a lone high surrogate', '\ud800'],
    ['a lone low surrogate within a text', 'a\udc00b'],
    ['a lone surrogate in a key', { '\udc00': 1 }],
    ['NaN within a list', [Number.NaN]],
    ['a bigint', 1n],
    ['nothing', undefined],
  ])('refuses %s', (_name, value) => {
    expect(() => canonicalJson(value)).toThrow();
  });

  it('leaves out undefined members and sorts keys that look like indexes as texts', () => {
    expect(canonicalJson({ b: undefined, 10: 1, 9: 2, a: [] })).toBe('{"10":1,"9":2,"a":[]}');
  });

  it('keeps a member called __proto__', () => {
    expect(canonicalJson(JSON.parse('{"__proto__":1,"a":2}'))).toBe('{"__proto__":1,"a":2}');
  });

  it('gives the same text whatever order the keys came in, and reads back as the same value', () => {
    fc.assert(
      fc.property(fc.jsonValue({ depthSize: 'small' }), (value) => {
        const text = canonicalJson(value);
        expect(canonicalJson(JSON.parse(text))).toBe(text);
        expect(canonicalJson(JSON.parse(JSON.stringify(value)))).toBe(text);
      }),
    );
  });
});
