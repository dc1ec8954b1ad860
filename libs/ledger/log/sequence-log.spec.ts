import { newSigningKey, nodeSigner } from '../../evidence/log/node-signer.js';
import { BookHarness, memoryHarness } from '../../../test/support/book-harness.js';
import { HandClock } from '../../../test/support/hand-clock.js';
import { addEntries, logDepsOf, ORIGIN, signedCheckpoint } from '../../../test/support/log-bench.js';
import { BOOK_STREAM } from './log-evidence.js';
import { LogSigner } from './log-signer.js';
import { logKeys } from './log-keys.js';
import { sequenceLog } from './sequence-log.js';

const key = (): LogSigner => nodeSigner(newSigningKey(), ORIGIN);

describe('the sequencer', () => {
  const clock = new HandClock(Date.parse('2026-03-02T08:00:00Z'));
  let harness: BookHarness;
  beforeEach(async () => {
    harness = await memoryHarness(clock);
  });
  afterEach(() => harness.close());

  const trouble = async (): Promise<string | null> =>
    (await harness.siteLog.findings()).find(({ watcher }) => watcher === 'sequencer')?.trouble ?? null;

  it('enters its key first, gives every entry its place, and signs the whole', async () => {
    const deps = logDepsOf(harness);
    await sequenceLog(deps);
    await addEntries(deps, 'A-1/1', 3);
    await addEntries(deps, 'A-1/2');
    await sequenceLog(deps);
    const leaves = await harness.siteLog.leaves(0, 10);
    expect(leaves.map(({ index, subject, seq }) => `${index} ${subject} ${seq}`)).toEqual([
      `0 ${BOOK_STREAM} 1`,
      ...['1 A-1/1 1', '2 A-1/1 2', '3 A-1/1 3', '4 A-1/2 1'],
    ]);
    expect(await logKeys(harness.reads)).toEqual([
      { vkey: deps.signer?.vkey, since: '2026-03-02T08:00:00.000Z', endorsement: null },
    ]);
    expect(await signedCheckpoint(deps)).toMatchObject({ origin: ORIGIN, size: 5 });
    expect(await trouble()).toBeNull();
  });

  it('signs again only when the log has grown', async () => {
    const deps = logDepsOf(harness);
    await sequenceLog(deps);
    const first = await harness.siteLog.checkpoint();
    clock.pass(60_000);
    await sequenceLog(deps);
    expect(await harness.siteLog.checkpoint()).toEqual(first);
    await addEntries(deps, 'A-1/1');
    await sequenceLog(deps);
    expect((await harness.siteLog.checkpoint())?.size).toBe(2);
  });

  it('gives places without a key too, and signs nothing', async () => {
    const deps = logDepsOf(harness, { signer: undefined });
    await addEntries(deps, 'A-1/1');
    await sequenceLog(deps);
    expect(await harness.siteLog.size()).toBe(1);
    expect(await harness.siteLog.checkpoint()).toBeUndefined();
    expect(await logKeys(harness.reads)).toEqual([]);
  });

  it('takes more than it takes at once, one bound after the other', async () => {
    const deps = logDepsOf(harness);
    for (let n = 0; n < 70; n += 1) await addEntries(deps, `A-1/${n % 3}`, 2);
    await addEntries(deps, 'A-1/9', 5000);
    await sequenceLog(deps);
    expect((await signedCheckpoint(deps))?.size).toBe(1 + 140 + 5000);
    expect(await harness.siteLog.waitingCount()).toBe(0);
  });

  it('does not sign with a key that is not the newest on record, and says what to do', async () => {
    const deps = logDepsOf(harness);
    await sequenceLog(deps);
    await addEntries(deps, 'A-1/1');
    const other = logDepsOf(harness, { signer: key() });
    await sequenceLog(other);
    expect((await harness.siteLog.checkpoint())?.size).toBe(1);
    expect(other.errors).toEqual([expect.stringMatching(/Nothing is signed.*HEATBOOK_SIGNING_KEY_FILE.*rotate-key/)]);
    expect(await trouble()).toContain(String(other.signer?.vkey));
    // Said once a minute.
    await sequenceLog(other);
    expect(other.errors).toHaveLength(1);
    clock.pass(60_000);
    await sequenceLog(other);
    expect(other.errors).toHaveLength(2);
    await sequenceLog(deps);
    expect(await trouble()).toBeNull();
    expect((await harness.siteLog.checkpoint())?.size).toBe(2);
  });

  it('does not sign a log that its key has seen longer', async () => {
    const before = logDepsOf(harness);
    await addEntries(before, 'A-1/1', 5);
    await sequenceLog(before);
    const restored = await memoryHarness(clock);
    const { signer, signedBefore } = before;
    const deps = logDepsOf(restored, { signer, signedBefore });
    await addEntries(deps, 'A-1/1', 2);
    await sequenceLog(deps);
    expect(await restored.siteLog.checkpoint()).toBeUndefined();
    expect(deps.errors).toEqual([
      expect.stringMatching(/put back.*has 3 entries, .* this key signed has 6.*rotate-key/),
    ]);
  });

  it('does not sign a log that is longer but has become another', async () => {
    const before = logDepsOf(harness);
    await addEntries(before, 'A-1/1', 5);
    await sequenceLog(before);
    const restored = await memoryHarness(clock);
    const { signer, signedBefore } = before;
    const deps = logDepsOf(restored, { signer, signedBefore });
    await addEntries(deps, 'A-1/2', 7);
    await sequenceLog(deps);
    expect(await restored.siteLog.checkpoint()).toBeUndefined();
    expect(deps.errors).toEqual([expect.stringMatching(/its first 6 entries are others/)]);
  });

  it('signs where the crash was between its note and the commit', async () => {
    const deps = logDepsOf(harness);
    await sequenceLog(deps);
    await addEntries(deps, 'A-1/1');
    const cut = {
      ...deps,
      signedBefore: {
        read: () => deps.signedBefore.read(),
        write: async (note: string) => {
          await deps.signedBefore.write(note);
          throw new Error('power cut');
        },
      },
    };
    await expect(sequenceLog(cut)).rejects.toThrow('power cut');
    expect((await harness.siteLog.checkpoint())?.size).toBe(1);
    await sequenceLog(deps);
    expect((await signedCheckpoint(deps))?.size).toBe(2);
    expect(await trouble()).toBeNull();
  });

  it('signs nothing where the note of before cannot be read', async () => {
    const deps = logDepsOf(harness);
    await deps.signedBefore.write('torn');
    await sequenceLog(deps);
    expect(await harness.siteLog.checkpoint()).toBeUndefined();
    expect(deps.errors).toEqual([expect.stringContaining('cannot be read')]);
  });
});
