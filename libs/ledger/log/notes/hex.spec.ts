import fc from 'fast-check';
import { fromHex, toHex } from './hex.js';

const digits = fc.string({ unit: fc.constantFrom(...Array.from('0123456789abcdef')), maxLength: 80 });
const nearly = fc.string({ unit: fc.constantFrom(...Array.from('09afAFg/:`@ é\u{1F4A1}')), maxLength: 8 });

describe('hex', () => {
  it('is read as two digits are by parseInt, and nothing else is read', () => {
    fc.assert(
      fc.property(fc.oneof(digits, nearly), (text) => {
        const pairs = /^(?:[0-9a-f]{2})*$/.test(text) ? (text.match(/../g) ?? []) : undefined;
        const plain = pairs?.map((pair) => parseInt(pair, 16));
        expect(fromHex(text)).toEqual(plain === undefined ? undefined : Uint8Array.from(plain));
      }),
    );
  });

  it('is refused where it has another number of bytes than was asked for', () => {
    expect(fromHex('00ff', 2)).toEqual(Uint8Array.of(0, 255));
    expect([fromHex('00ff', 1), fromHex('00ff', 3), fromHex('', 1)]).toEqual([undefined, undefined, undefined]);
  });

  it('comes back from the bytes that it was read as', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 64 }), (bytes) => {
        expect(fromHex(toHex(bytes))).toEqual(Uint8Array.from(bytes));
      }),
    );
  });
});
