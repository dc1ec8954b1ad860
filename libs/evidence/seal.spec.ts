import { GENESIS_HASH } from '../ledger/ports/seal.js';
import { seal } from './seal.js';
import { sampleBody } from './spec-support/sample-audit.js';

describe('seal.sha256Hex as published vectors', () => {
  // NIST, "Secure Hash Standard" (FIPS 180-4), example values for SHA-256: one block and two blocks (448 bits);
  // the empty message is SHA256ShortMsg.rsp, Len = 0, of NIST's CAVP byte-oriented test vectors.
  it.each([
    ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
    [
      'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
      '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
    ],
    ['', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
  ])('hashes %j', (text, hash) => {
    expect(seal.sha256Hex(text)).toBe(hash);
  });
});

describe('seal', () => {
  it('seals the canonical form of the body with the hash of its predecessor', () => {
    const body = sampleBody('DEMO-100/SN-1', 1);
    const { bytes, hash } = seal.sealEntry(body, GENESIS_HASH);
    expect(JSON.parse(bytes)).toEqual({ ...body, prevHash: GENESIS_HASH });
    expect(bytes).toBe(seal.canonical({ ...body, prevHash: GENESIS_HASH }));
    expect(hash).toBe(seal.sha256Hex(bytes));
  });

  it('hashes the UTF-8 bytes of a text', () => {
    expect(seal.sha256Hex('\u20ac')).toBe(seal.sha256Hex(new TextDecoder().decode(Uint8Array.of(0xe2, 0x82, 0xac))));
  });

  it('gives another hash after another predecessor', () => {
    const body = sampleBody('DEMO-100/SN-1', 1);
    expect(seal.sealEntry(body, '1'.repeat(64)).hash).not.toBe(seal.sealEntry(body, GENESIS_HASH).hash);
  });

  it('refuses a body that has no canonical form', () => {
    expect(() => seal.sealEntry(sampleBody('DEMO-100/SN-1', 1, { note: '\ud800' }), GENESIS_HASH)).toThrow();
    expect(() => seal.sealEntry(sampleBody('DEMO-100/SN-1', 1, { peakC: Number.NaN }), GENESIS_HASH)).toThrow();
  });
});
