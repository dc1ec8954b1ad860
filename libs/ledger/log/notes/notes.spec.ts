import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { fromBase64, fromBase64Url, toBase64, toBase64Url } from './base64.js';
import { checkpointText, parseCheckpoint } from './checkpoint.js';
import { fromHex, toHex } from './hex.js';
import { MAX_NOTE, parseNote, signNote } from './signed-note.js';
import { formatVerifierKey, isKeyName, parseVerifierKey } from './verifier-key.js';

const sha256 = (bytes: Uint8Array): Uint8Array => createHash('sha256').update(bytes).digest();
const root = new Uint8Array(32).fill(7);

describe('encodings', () => {
  it('are those of node:buffer, both ways', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 100 }), (bytes) => {
        const buffer = Buffer.from(bytes);
        expect([toHex(bytes), toBase64(bytes), toBase64Url(bytes)]).toEqual([
          buffer.toString('hex'),
          buffer.toString('base64'),
          buffer.toString('base64url'),
        ]);
        expect(fromHex(toHex(bytes))).toEqual(bytes);
        expect(fromBase64(toBase64(bytes))).toEqual(bytes);
        expect(fromBase64Url(toBase64Url(bytes))).toEqual(bytes);
      }),
    );
  });

  it('are read only as they are written', () => {
    const letters = fc.string({ unit: fc.constantFrom(...Array.from('AZaz09+/-_=g \n')), maxLength: 12 });
    fc.assert(
      fc.property(letters, (text) => {
        const [hex, standard, safe] = [fromHex(text), fromBase64(text), fromBase64Url(text)];
        if (hex) expect(toHex(hex)).toBe(text);
        if (standard) expect(toBase64(standard)).toBe(text);
        if (safe) expect(toBase64Url(safe)).toBe(text);
      }),
      { numRuns: 2000 },
    );
  });

  it.each(['A', 'AA', 'AAA', 'AB==', 'AAB=', 'AA==\n', 'A===', '====', 'AAAA=', 'AÿAA', 'AA=A'])(
    'refuse %j as base 64',
    (text) => {
      expect(fromBase64(text)).toBeUndefined();
    },
  );

  it('write megabytes in pieces', () => {
    const bytes = new Uint8Array(1_000_001).map((_, at) => at * 31);
    expect(toBase64(bytes)).toBe(Buffer.from(bytes).toString('base64'));
    expect(fromBase64(toBase64(bytes))).toEqual(bytes);
  });

  it('know how many bytes are wanted', () => {
    expect(fromHex('00ff', 2)).toEqual(Uint8Array.of(0, 255));
    expect(fromHex('00ff', 1)).toBeUndefined();
    expect(fromHex('00FF')).toBeUndefined();
    expect(fromHex('0')).toBeUndefined();
  });
});

describe('a verifier key', () => {
  it.each(['heatbook/0123456789ab', 'log.example/floor-2', 'é'])('may be called %s', (name) => {
    const vkey = formatVerifierKey(name, root, sha256);
    expect(parseVerifierKey(vkey, sha256)).toMatchObject({ name, publicKey: root });
  });

  it.each(['', 'a b', 'a+b', 'a\u00a0b', 'a\u0085', 'a\u2003', 'a\n', '\ud800', 'a'.repeat(257)])(
    'may not be called %j',
    (name) => {
      expect(isKeyName(name)).toBe(false);
      expect(() => formatVerifierKey(name, root, sha256)).toThrow('cannot be called');
    },
  );

  it('has 32 bytes', () => {
    expect(() => formatVerifierKey('a', root.slice(1), sha256)).toThrow('32 bytes, not 31');
  });
});

describe('a checkpoint', () => {
  const text = checkpointText({ origin: 'heatbook/floor', size: 12, root });

  it('is three lines, and is read as it was written', () => {
    expect(text).toBe(`heatbook/floor\n12\n${Buffer.from(root).toString('base64')}\n`);
    expect(parseCheckpoint(text)).toEqual({ origin: 'heatbook/floor', size: 12, root });
    expect(parseCheckpoint(`${text}a line of another use\n`)).toMatchObject({ size: 12 });
  });

  it.each([
    ['zeros before the size', text.replace('12', '012')],
    ['a sign', text.replace('12', '+12')],
    ['a fraction', text.replace('12', '1.2')],
    ['more leaves than can be counted', text.replace('12', '9007199254740993')],
    ['no size', text.replace('12', '')],
    ['a root of 31 bytes', text.replace(toBase64(root), toBase64(root.slice(1)))],
    ['a root in hex', text.replace(toBase64(root), toHex(root))],
    ['an origin with a space', text.replace('/', ' ')],
    ['no last line end', text.slice(0, -1)],
    ['an empty line', `${text}\n`],
    ['carriage returns', text.replaceAll('\n', '\r\n')],
    ['two lines', text.slice(0, text.indexOf('\n', 16) + 1)],
  ])('is not one with %s', (_what, malformed) => {
    expect(parseCheckpoint(malformed)).toBeUndefined();
  });

  it('is not made of what it cannot say', () => {
    expect(() => checkpointText({ origin: 'a b', size: 1, root })).toThrow('no white space');
    expect(() => checkpointText({ origin: 'a', size: 1.5, root })).toThrow('whole number');
    expect(() => checkpointText({ origin: 'a', size: -1, root })).toThrow('whole number');
    expect(() => checkpointText({ origin: 'a', size: 1, root: root.slice(1) })).toThrow('31 bytes');
  });
});

describe('a note', () => {
  const keyId = Uint8Array.of(1, 2, 3, 4);
  const sign = () => new Uint8Array(64);

  it('is read as it was signed, whatever it says', () => {
    const line = fc.string({ unit: 'grapheme', maxLength: 20 }).filter((text) => !/[\p{Cc}\p{Cs}]/u.test(text));
    fc.assert(
      fc.property(fc.array(line, { minLength: 1, maxLength: 5 }), (lines) => {
        const text = `${lines.join('\n')}\n`;
        const signature = { name: 'a', keyId, signature: new Uint8Array(64) };
        expect(parseNote(signNote(text, 'a', keyId, sign))).toEqual({ text, signatures: [signature] });
      }),
    );
  });

  it('is not made of what it cannot say', () => {
    expect(() => signNote('text', 'a', keyId, sign)).toThrow('add one');
    expect(() => signNote('te\rxt\n', 'a', keyId, sign)).toThrow('control characters');
    expect(() => signNote('text\n', 'a b', keyId, sign)).toThrow('cannot stand');
    expect(() => signNote('text\n', 'a', keyId.slice(1), sign)).toThrow('cannot stand');
  });

  it('has a bound', () => {
    const note = signNote(`${'a'.repeat(1000)}\n`, 'a', keyId, sign);
    expect(parseNote(note)).toBeDefined();
    expect(parseNote('a'.repeat(MAX_NOTE) + note)).toBeUndefined();
  });

  it.each([
    ['a hyphen for the dash', '- a AQIDBAA='],
    ['two spaces', '—  a AQIDBAA='],
    ['a word more', '— a AQIDBAA= b'],
    ['no signature behind the key id', '— a AQIDBA=='],
    ['base 64 without padding', '— a AQIDBAA'],
    ['a plus in the name', '— a+b AQIDBAA='],
  ])('has no signature line with %s', (_what, line) => {
    expect(parseNote('text\n\n— a AQIDBAA=\n')).toBeDefined();
    expect(parseNote(`text\n\n${line}\n`)).toBeUndefined();
  });
});
