import { newSigningKey, nodeSigner } from '../../evidence/log/node-signer.js';
import { nodeDigests } from '../../evidence/node-digests.js';
import { BookHarness, memoryHarness } from '../../../test/support/book-harness.js';
import { addEntries, logDepsOf, ORIGIN, readCheckpoint, signedCheckpoint } from '../../../test/support/log-bench.js';
import { BOOK_STREAM } from './log-evidence.js';
import { LogSigner } from './log-signer.js';
import { keyOfSigner, logKeys, rotateKey } from './log-keys.js';
import { checkNote } from './notes/check-note.js';
import { sequenceLog } from './sequence-log.js';
import { brokenFrom } from './sign-checkpoint.js';

const key = (): LogSigner => nodeSigner(newSigningKey(), ORIGIN);

/** The text of a note that this key signed, if it did. */
async function signedBy(note: string | null | undefined, signer: LogSigner): Promise<string | undefined> {
  const known = [keyOfSigner(nodeDigests.sha256, signer)];
  return (await checkNote(note ?? '', known, (...args) => nodeDigests.verifyEd25519(...args)))?.text;
}

describe('keys of the log', () => {
  let harness: BookHarness;
  const [old, next] = [key(), key()];
  beforeEach(async () => {
    harness = await memoryHarness();
    await sequenceLog(logDepsOf(harness, { signer: old }));
  });
  afterEach(() => harness.close());

  it('are taken over with the word of the key before', async () => {
    const deps = logDepsOf(harness, { signer: old });
    await rotateKey(deps, { next, old, note: 'Yearly.' });
    const [first, second] = await logKeys(harness.reads);
    expect([first?.vkey, second?.vkey]).toEqual([old.vkey, next.vkey]);
    expect(await signedBy(second?.endorsement, old)).toBe(`heatbook key\n${ORIGIN}\n${next.vkey}\n`);
    await sequenceLog(deps);
    expect(deps.errors).toHaveLength(1);
    await sequenceLog(logDepsOf(harness, { signer: next }));
    const checkpoint = await signedCheckpoint(harness);
    expect(checkpoint?.size).toBe(2);
    expect(await readCheckpoint(String(checkpoint?.note), [next])).toMatchObject({ size: 2 });
    const [, entry] = await harness.reads.ledger(BOOK_STREAM, { limit: 5, order: 'asc', afterSeq: null });
    expect(entry).toMatchObject({ type: 'heatbook.log.key.rotated.v1', data: { vkey: next.vkey, note: 'Yearly.' } });
  });

  it('are taken over without it where the key before is lost, and the entry says why', async () => {
    await rotateKey(logDepsOf(harness), { next, old: undefined, note: 'The disk of the worker died.' });
    expect((await logKeys(harness.reads)).at(-1)).toMatchObject({ vkey: next.vkey, endorsement: null });
  });

  it('are refused where the one that endorses is not the newest, or the new one is known', async () => {
    const deps = logDepsOf(harness);
    await expect(rotateKey(deps, { next, old: key(), note: 'x' })).rejects.toThrow(/HEATBOOK_SIGNING_KEY_FILE.*--lost/);
    await expect(rotateKey(deps, { next: old, old, note: 'x' })).rejects.toThrow('signing-key FILE');
    const empty = await memoryHarness();
    await expect(rotateKey(logDepsOf(empty), { next, old: undefined, note: 'x' })).rejects.toThrow('it is the first');
    expect(await logKeys(harness.reads)).toHaveLength(1);
  });

  it('start a log over that was put back, and keep the break on record', async () => {
    const before = logDepsOf(harness, { signer: old });
    await addEntries(before, 'A-1/1', 4);
    await sequenceLog(before);
    const seen = await before.signedBefore.read();
    const restored = await memoryHarness();
    const blocked = logDepsOf(restored, { signer: old, signedBefore: before.signedBefore });
    await addEntries(blocked, 'A-1/1');
    await sequenceLog(blocked);
    expect(await restored.siteLog.checkpoint()).toBeUndefined();
    expect(await brokenFrom(blocked, blocked.signedBefore)).toBe(seen);
    await rotateKey(blocked, { next, old, note: 'Restored Monday’s backup.', restoredFrom: String(seen) });
    const after = logDepsOf(restored, { signer: next });
    await sequenceLog(after);
    expect(await signedCheckpoint(after)).toMatchObject({ size: 3 });
    const [, entry] = await restored.reads.ledger(BOOK_STREAM, { limit: 5, order: 'asc', afterSeq: null });
    expect(entry?.data).toMatchObject({ restored: { from: seen } });
    expect((await restored.siteLog.findings()).map(({ trouble }) => trouble)).toEqual([null]);
  });
});
