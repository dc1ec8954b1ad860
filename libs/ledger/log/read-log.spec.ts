import { nodeDigests } from '../../evidence/node-digests.js';
import { seal } from '../../evidence/seal.js';
import { BookHarness, memoryHarness } from '../../../test/support/book-harness.js';
import { HandClock } from '../../../test/support/hand-clock.js';
import { addEntries, logDepsOf, readCheckpoint } from '../../../test/support/log-bench.js';
import { JobQueue } from '../ports/job-queue.js';
import { censusGroupLeaf, censusLedgerLeaf } from './census-tree.js';
import { CensusData, CensusProof, InclusionProof, LogEvidence } from './log-evidence.js';
import { isConsistent, rootFromInclusion } from './merkle/check-proofs.js';
import { fromHex, toHex } from './notes/hex.js';
import { ReadLog } from './read-log.js';
import { sequenceLog } from './sequence-log.js';
import { SiteLogDeps } from './site-log-deps.js';
import { entryLeaf } from './stored-subtrees.js';
import { takeCensus } from './take-census.js';

const { sha256 } = nodeDigests;
const hashing = { sha256, canonical: (value: unknown) => seal.canonical(value) };

function bytes(...hashes: readonly string[]): Uint8Array[] {
  return hashes.map((hash) => fromHex(hash, 32) ?? new Uint8Array(0));
}

/** The root that a proof leads to, in hex. */
function rootOf({ index, hash, path }: InclusionProof, size: number): string {
  const root = rootFromInclusion(sha256, { index, size, leaf: entryLeaf(sha256, hash), path: bytes(...path) });
  return toHex(root ?? new Uint8Array(0));
}

/** Whether the ledger is in the tree whose root the census's entry names. */
function leadsToCensus({ entry, group, groupIndex, groupPath, ledger, ledgerIndex, ledgerPath }: CensusProof): boolean {
  const { root, groups } = entry.data as CensusData;
  const own = { index: ledgerIndex, size: group.ledgers, leaf: censusLedgerLeaf(hashing, ledger) };
  const groupRoot = rootFromInclusion(sha256, { ...own, path: bytes(...ledgerPath) });
  const above = { index: groupIndex, size: groups, leaf: censusGroupLeaf(hashing, group) };
  const censusRoot = rootFromInclusion(sha256, { ...above, path: bytes(...groupPath) });
  return toHex(groupRoot ?? new Uint8Array(0)) === group.root && toHex(censusRoot ?? new Uint8Array(0)) === root;
}

describe('reading the log', () => {
  let clock: HandClock;
  let harness: BookHarness;
  let deps: SiteLogDeps;
  let woken: string[];
  let log: ReadLog;
  beforeEach(async () => {
    clock = new HandClock(Date.parse('2026-03-02T08:00:00Z'));
    harness = await memoryHarness(clock);
    deps = logDepsOf(harness);
    woken = [];
    const queue: Pick<JobQueue, 'add'> = { add: (name) => Promise.resolve(void woken.push(name)) };
    log = new ReadLog({ ...deps, queue });
  });
  afterEach(() => harness.close());

  const evidence = async (subjects: Record<string, number>, since: readonly number[] = []): Promise<LogEvidence> => {
    const reach = Object.entries(subjects).map(([subject, seq]) => ({ subject, seq }));
    const found = await log.evidence(reach, since);
    if (found === null) throw new Error('there is no checkpoint');
    return found;
  };

  it('has nothing to show before the first checkpoint', async () => {
    await addEntries(deps, 'A/1');
    expect(await log.evidence([{ subject: 'A/1', seq: 1 }], [])).toBeNull();
  });

  it('proves the newest entry of each ledger that the checkpoint covers', async () => {
    for (let n = 0; n < 40; n += 1) await addEntries(deps, `A/${n % 7}`, 3);
    await sequenceLog(deps);
    await addEntries(deps, 'A/2');
    const { checkpoint, keys, inclusion, consistency, censuses } = await evidence({ 'A/2': 19, 'A/3': 5, 'A/none': 1 });
    const { size, root } = await readCheckpoint(checkpoint, keys);
    expect(inclusion.map(({ subject, seq }) => `${subject} ${seq}`)).toEqual(['A/2 18', 'A/3 5']);
    expect(inclusion.map((proof) => rootOf(proof, size))).toEqual([toHex(root), toHex(root)]);
    expect([consistency, censuses]).toEqual([[], []]);
  });

  it('proves that it continues checkpoints that somebody kept, and passes over sizes it never had', async () => {
    const kept = new Map<number, Uint8Array>();
    for (const count of [3, 1, 20]) {
      await addEntries(deps, 'A/1', count);
      await sequenceLog(deps);
      const checkpoint = await harness.siteLog.checkpoint();
      if (checkpoint !== undefined) kept.set(checkpoint.size, checkpoint.root);
    }
    const { checkpoint, keys, consistency } = await evidence({ 'A/1': 24 }, [4, 5, 4, 0, 26, 1.5, -1]);
    const { size, root } = await readCheckpoint(checkpoint, keys);
    expect(consistency.map(({ from, to }) => [from, to])).toEqual([
      [4, size],
      [5, size],
    ]);
    for (const { from, to, path } of consistency) {
      const fromRoot = kept.get(from) ?? new Uint8Array(0);
      expect(isConsistent(sha256, { from, to, fromRoot, toRoot: root, path: bytes(...path) })).toBe(true);
    }
  });

  it('shows each head of the first ledger in the first census that saw it', async () => {
    const day = async (time: string, ...subjects: string[]): Promise<void> => {
      clock.ms = Date.parse(time);
      await takeCensus(deps);
      await sequenceLog(deps);
      for (const subject of subjects) await addEntries(deps, subject, 2);
      await sequenceLog(deps);
    };
    await day('2026-03-02T09:00:00Z', 'A/1', 'A/2', 'B/1', 'devices/D');
    await day('2026-03-03T09:00:00Z', 'A/2');
    await day('2026-03-04T09:00:00Z', 'A/1', 'A/3', 'C/1');
    await day('2026-03-05T09:00:00Z');
    const { checkpoint, keys, censuses, censusesLeftOut } = await evidence({ 'A/1': 4, 'devices/D': 2 });
    const { size, root } = await readCheckpoint(checkpoint, keys);
    const told = censuses.map(
      ({ entry, ledger }) => `${(entry.data as CensusData).day} ${ledger.subject} ${ledger.seq}`,
    );
    expect(told).toEqual(['2026-03-02 A/1 2', '2026-03-04 A/1 4']);
    expect(censuses.map(leadsToCensus)).toEqual([true, true]);
    expect(censuses.map(({ inclusion }) => rootOf(inclusion, size))).toEqual([toHex(root), toHex(root)]);
    expect(censuses.map(({ entry, inclusion }) => entry.hash === inclusion.hash)).toEqual([true, true]);
    expect(censusesLeftOut).toBe(0);
    expect((await evidence({ '~book': 9 })).censuses.map(leadsToCensus)).toEqual([true, true, true]);
  });

  it('tells of the 31 newest heads, and how many it leaves out', async () => {
    await sequenceLog(deps);
    for (let day = 2; day < 36; day += 1) {
      clock.ms = Date.UTC(2026, 2, day, 12);
      await takeCensus(deps);
      await addEntries(deps, 'A/1');
    }
    await sequenceLog(deps);
    const { censuses, censusesLeftOut } = await evidence({ 'A/1': 34 });
    expect(censuses.map(({ ledger }) => ledger.seq)).toEqual(Array.from({ length: 31 }, (_, n) => n + 3));
    expect(censusesLeftOut).toBe(2);
    expect(censuses.every(leadsToCensus)).toBe(true);
  });

  it('waits for the sequencer, wakes it, and gives up in time', async () => {
    await sequenceLog(deps);
    await addEntries(deps, 'A/1', 2);
    expect(await log.caughtUp([{ subject: 'A/1', seq: 2 }], 60)).toBe(false);
    expect(woken).toEqual(['sequence-log']);
    const waiting = log.caughtUp([{ subject: 'A/1', seq: 2 }], 10_000);
    await sequenceLog(deps);
    expect(await waiting).toBe(true);
    woken.length = 0;
    expect(
      await log.caughtUp(
        [
          { subject: 'A/1', seq: 1 },
          { subject: 'A/9', seq: 0 },
        ],
        0,
      ),
    ).toBe(true);
    expect(woken).toEqual([]);
  });

  it('does not wait where nothing is signed', async () => {
    const keyless = new ReadLog({ ...deps, signer: undefined, queue: { add: () => Promise.resolve() } });
    await addEntries(deps, 'A/1');
    expect(await keyless.caughtUp([{ subject: 'A/1', seq: 1 }], 3_600_000)).toBe(false);
  });
});
