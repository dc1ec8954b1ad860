import { seal, sha256Hex } from '../../../libs/evidence/seal.js';
import { newKey } from '../../../libs/ledger/keys/new-key.js';
import { memoryBook } from '../../../libs/ledger/memory/memory-book.js';
import { KeyHolder } from '../../../libs/ledger/ports/key-store.js';
import { KeyRing } from './key-ring.js';

const station: KeyHolder = { role: 'station', name: 'HG-1' };
const asked = { name: 'HG-1', via: 'key', roles: ['station'] };
const clock = { now: () => '2030-01-07T08:00:00.000Z' };

async function ring() {
  const { keys } = memoryBook(clock);
  const { key, issued } = newKey({ seal, clock }, station);
  await keys.add(issued, 2);
  let nowMs = 0;
  const keyRing = new KeyRing(keys, seal, sha256Hex('admin-key'), () => nowMs);
  return { keyRing, keys, key, issued, pass: (ms: number) => (nowMs += ms) };
}

describe('KeyRing', () => {
  it('knows whose key it is', async () => {
    const { keyRing, key } = await ring();
    expect(await keyRing.identify(`Bearer ${key}`)).toEqual(asked);
    expect(await keyRing.identify('bearer admin-key')).toEqual({ roles: ['admin'], name: 'admin', via: 'key' });
  });

  it.each([
    undefined,
    '',
    'Bearer',
    'Bearer ',
    'Basic YWRtaW4ta2V5',
    'Bearer admin-ke',
    'Bearer admin-key extra',
    'Bearer hbk_unknown',
  ])('knows nobody by %p', async (header) => {
    const { keyRing } = await ring();
    expect(await keyRing.identify(header)).toBeUndefined();
  });

  it('knows no admin where no such key was given', async () => {
    const { keys } = memoryBook(clock);
    expect(await new KeyRing(keys, seal, undefined).identify('Bearer admin-key')).toBeUndefined();
  });

  it('trusts what it looked up for a few seconds only, and at once no more when told to forget', async () => {
    const { keyRing, keys, key, issued, pass } = await ring();
    await keyRing.identify(`Bearer ${key}`);
    await keys.revoke(station, issued.keyId);
    expect(await keyRing.identify(`Bearer ${key}`)).toEqual(asked);
    pass(5_000);
    expect(await keyRing.identify(`Bearer ${key}`)).toBeUndefined();

    const other = await ring();
    await other.keyRing.identify(`Bearer ${other.key}`);
    await other.keys.revoke(station, other.issued.keyId);
    other.keyRing.forget();
    expect(await other.keyRing.identify(`Bearer ${other.key}`)).toBeUndefined();
  });

  it('does not keep what it was looking up while it was told to forget', async () => {
    const { keys, key, issued } = await ring();
    let answer: () => void = () => undefined;
    const found = new Promise<void>((resolve) => (answer = resolve));
    const slow = { byHash: async (hash: string) => keys.byHash(hash).then((one) => found.then(() => one)) };
    const keyRing = new KeyRing(slow, seal, undefined);
    const before = keyRing.identify(`Bearer ${key}`);
    // Read already, on the way back still.
    await new Promise((resolve) => setImmediate(resolve));
    await keys.revoke(station, issued.keyId);
    keyRing.forget();
    answer();
    expect(await before).toEqual(asked);
    expect(await keyRing.identify(`Bearer ${key}`)).toBeUndefined();
  });
});
