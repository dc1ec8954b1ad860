import { BookBench, NO_CHANGES } from './book-bench.contract.js';
import { LogLeaf, LogTransaction } from './log-store.js';
import { Seal } from './seal.js';
import { MakeStores, useBench } from './use-bench.contract.js';

const A = 'BRD-1/0001';
const B = 'BRD-1/0002';
const C = 'BRD-10/0001';
const HASH = Uint8Array.from({ length: 32 }, (_, byte) => byte);

/** What every store of the site-wide log must do. `make` gives an empty book each time. */
export function describeLogStore(name: string, make: MakeStores, seal: Seal): void {
  describe(`log store: ${name}`, () => {
    const bench = useBench(make, seal);
    describeInbox(bench);
    describe('with leaves in it', () => {
      describeReading(bench);
    });
    describeKeeping(bench);
  });
}

/** Runs as the sequencer that nobody else is. */
async function alone<T>({ siteLog }: BookBench, work: (tx: LogTransaction) => Promise<T>): Promise<T> {
  const result = await siteLog.alone(async (tx) => ({ value: await work(tx) }));
  if (result === 'busy') throw new Error('somebody else is at work');
  return result.value;
}

/** Gives everything that waits its place, in order. */
function placeAll(bench: BookBench): Promise<LogLeaf[]> {
  return alone(bench, async (tx) => {
    const [waiting, size] = [await tx.waiting(100, 100), await tx.size()];
    const leaves = waiting.flatMap(({ entries }) => entries).map((entry, n) => ({ ...entry, index: size + n }));
    await tx.append(
      leaves,
      [],
      waiting.map(({ number }) => number),
    );
    return leaves;
  });
}

function placesOf(leaves: readonly LogLeaf[]): string[] {
  return leaves.map(({ index, subject, seq }) => `${index} ${subject} ${seq}`);
}

function describeInbox(bench: () => BookBench): void {
  it('is told of every entry in the commit of the entry, once for each write', async () => {
    const [first] = await bench().append(A);
    const two = await bench().append(A, 2);
    const waiting = await alone(bench(), (tx) => tx.waiting(10, 100));
    const told = ({ subject, seq, hash }: { subject: string; seq: number; hash: string }): object => ({
      subject,
      seq,
      hash,
    });
    expect(waiting.map(({ entries }) => entries)).toEqual([[first].map((one) => one && told(one)), two.map(told)]);
    expect(await bench().siteLog.waitingCount()).toBe(2);
    const taken = async (deliveries: number, entries: number): Promise<number[]> =>
      (await alone(bench(), (tx) => tx.waiting(deliveries, entries))).map((one) => one.entries.length);
    expect([await taken(1, 9), await taken(9, 2), await taken(9, 0), await taken(9, 3)]).toEqual([
      [1],
      [1],
      [1],
      [1, 2],
    ]);
  });

  it('is told nothing of what was rolled back, and nothing of a write without entries', async () => {
    const failing = bench().book.exclusively(async (tx) => {
      await bench().appendIn(tx, A);
      throw new Error('changed my mind');
    });
    await expect(failing).rejects.toThrow('changed my mind');
    await bench().write(NO_CHANGES);
    expect(await bench().siteLog.waitingCount()).toBe(0);
  });

  it('keeps what waits where placing it fails, and takes it out where it is placed', async () => {
    await bench().append(A);
    const failing = alone(bench(), async (tx) => {
      const [delivery] = await tx.waiting(1, 100);
      await tx.append([], [], [delivery?.number ?? '']);
      throw new Error('power cut');
    });
    await expect(failing).rejects.toThrow('power cut');
    expect(placesOf(await placeAll(bench()))).toEqual([`0 ${A} 1`]);
    expect(await bench().siteLog.waitingCount()).toBe(0);
    expect(await bench().siteLog.size()).toBe(1);
  });

  it('tells since when entries wait for their place, and for a checkpoint once there was one', async () => {
    const { siteLog } = bench();
    const at = (hour: number): { recordedAt: string } => ({ recordedAt: `2026-03-02T0${String(hour)}:00:00.000Z` });
    const lag = async (unplaced: number | null, unsigned: number | null): Promise<void> => {
      const [unplacedSince, unsignedSince] = [unplaced, unsigned].map((hour) => hour && at(hour).recordedAt);
      expect(await siteLog.lag()).toEqual({ unplacedSince, unsignedSince });
    };
    const sign = (size: number): Promise<void> =>
      alone(bench(), (tx) => tx.keepCheckpoint({ size, root: HASH, note: 'note', at: at(9).recordedAt }));
    await lag(null, null);
    await bench().append(A, 1, at(1));
    await bench().append(A, 1, at(2));
    await lag(1, null);
    await placeAll(bench());
    await lag(null, null);
    await sign(1);
    await lag(null, 2);
    await bench().append(A, 1, at(3));
    await lag(3, 2);
    await sign(2);
    await lag(3, 3);
    await placeAll(bench());
    await sign(3);
    await lag(null, null);
  });

  it('lets one be at work at a time', async () => {
    const seen = await alone(bench(), () => bench().siteLog.alone(() => Promise.resolve('at work')));
    expect(seen).toBe('busy');
    expect(await bench().siteLog.alone(() => Promise.resolve('at work'))).toBe('at work');
  });

  it('knows what has its place, and gives no entry two', async () => {
    await bench().append(A, 2);
    const [leaf] = await placeAll(bench());
    const other = { subject: A, seq: 3, hash: leaf?.hash ?? '' };
    const known = await alone(bench(), (tx) => tx.known([{ ...other, seq: 1 }, other]));
    expect(known).toEqual([{ subject: A, seq: 1, hash: leaf?.hash }]);
    await expect(alone(bench(), (tx) => tx.append([{ ...other, seq: 1, index: 2 }], [], []))).rejects.toThrow();
    await expect(alone(bench(), (tx) => tx.append([{ ...other, index: 1 }], [], []))).rejects.toThrow();
    expect(await bench().siteLog.size()).toBe(2);
  });
}

function describeReading(bench: () => BookBench): void {
  beforeEach(async () => {
    await bench().append(A, 2, { recordedAt: '2026-03-02T23:59:59.999Z' });
    await bench().append(C, 1, { recordedAt: '2026-03-03T00:00:00.000Z' });
    await bench().append(B, 1, { recordedAt: '2026-03-02T23:00:00.000Z' });
    await bench().append(A, 1, { recordedAt: '2026-03-03T08:00:00.000Z' });
    await placeAll(bench());
  });

  it('gives leaves by number', async () => {
    const { siteLog } = bench();
    expect(placesOf(await siteLog.leaves(1, 3))).toEqual([`1 ${A} 2`, `2 ${C} 1`, `3 ${B} 1`]);
    expect(placesOf(await siteLog.leaves(4, 3))).toEqual([`4 ${A} 3`]);
    expect(placesOf(await siteLog.leavesAt([3, 0, 9]))).toEqual([`0 ${A} 1`, `3 ${B} 1`]);
    expect(await siteLog.leaves(5, 3)).toEqual([]);
  });

  it('gives the newest entry of ledgers, as far as they are asked for and as the log was', async () => {
    const { siteLog } = bench();
    const asked = [
      { subject: A, seq: 9 },
      { subject: B, seq: 1 },
      { subject: 'BRD-1/none', seq: 1 },
    ];
    expect(placesOf(await siteLog.newest(asked, 5)).sort()).toEqual([`3 ${B} 1`, `4 ${A} 3`]);
    expect(placesOf(await siteLog.newest(asked, 3))).toEqual([`1 ${A} 2`]);
    expect(placesOf(await siteLog.newest([{ subject: A, seq: 1 }], 5))).toEqual([`0 ${A} 1`]);
    expect(placesOf(await siteLog.ledgerLeaves(A, 1, 10))).toEqual([`1 ${A} 2`, `4 ${A} 3`]);
    expect(placesOf(await siteLog.ledgerLeaves(A, 0, 1))).toEqual([`0 ${A} 1`]);
  });

  it('gives the last entry of each ledger as the log was, by key and page by page', async () => {
    const { siteLog } = bench();
    const names = async (size: number, after: string | null, limit: number, prefix?: string): Promise<string[]> => {
      const page = { after, limit, ...(prefix !== undefined && { prefix }) };
      return (await siteLog.ledgersAt(size, page)).map(({ subject, seq }) => `${subject} ${seq}`);
    };
    expect(await names(5, null, 10)).toEqual([`${A} 3`, `${B} 1`, `${C} 1`]);
    expect(await names(3, null, 10)).toEqual([`${A} 2`, `${C} 1`]);
    expect(await names(5, null, 2)).toEqual([`${A} 3`, `${B} 1`]);
    expect(await names(5, B, 2)).toEqual([`${C} 1`]);
    expect(await names(5, null, 10, 'BRD-1/')).toEqual([`${A} 3`, `${B} 1`]);
    expect(await names(5, A, 10, 'BRD-1/')).toEqual([`${B} 1`]);
    expect(await names(5, null, 10, 'BRD-2/')).toEqual([]);
    expect(await names(0, null, 10)).toEqual([]);
  });

  it('tells how long the log was at a time, and when it went on', async () => {
    const { siteLog } = bench();
    expect(await siteLog.sizeBefore('2026-03-02T23:00:00.000Z')).toBe(0);
    // An entry of before that came later takes those before it along.
    expect(await siteLog.sizeBefore('2026-03-03T00:00:00.000Z')).toBe(4);
    expect(await siteLog.sizeBefore('2026-03-04T00:00:00+00:00')).toBe(5);
    expect(await siteLog.nextRecorded(2, A)).toBe('2026-03-03T00:00:00.000Z');
    expect(await siteLog.nextRecorded(4, B)).toBe('2026-03-03T08:00:00.000Z');
    expect(await siteLog.nextRecorded(4, A)).toBeUndefined();
  });

  it('shows leaves beside what their ledgers have', async () => {
    const leaves = await bench().siteLog.besideLedgers(3, 10);
    expect(placesOf(leaves)).toEqual([`3 ${B} 1`, `4 ${A} 3`]);
    expect(leaves.map(({ hash, ledgerHash }) => hash === ledgerHash)).toEqual([true, true]);
    expect(await bench().siteLog.outsideLog(10)).toEqual([]);
  });
}

function describeKeeping(bench: () => BookBench): void {
  it('keeps the name that it was first given', async () => {
    expect(await bench().siteLog.origin('rework.example/book')).toBe('rework.example/book');
    expect(await bench().siteLog.origin('another')).toBe('rework.example/book');
  });

  it('keeps subtrees, which do not change', async () => {
    const nodes = [
      { level: 4, index: 0, hash: HASH },
      { level: 4, index: 1, hash: HASH.toReversed() },
    ];
    await alone(bench(), (tx) => tx.append([], nodes, []));
    const places = [
      { level: 4, index: 1 },
      { level: 4, index: 0 },
    ];
    expect(await bench().siteLog.nodes(places)).toEqual([HASH.toReversed(), HASH]);
    await expect(bench().siteLog.nodes([{ level: 8, index: 0 }])).rejects.toThrow('no hash of subtree 0 at level 8');
  });

  it('gives the checkpoint that was kept last', async () => {
    expect(await bench().siteLog.checkpoint()).toBeUndefined();
    const first = { size: 7, root: HASH, note: 'a note\n\n— name sig\n', at: '2026-03-02T08:30:01.000Z' };
    await alone(bench(), (tx) => tx.keepCheckpoint(first));
    const second = { ...first, size: 5, note: 'started over' };
    await alone(bench(), (tx) => tx.keepCheckpoint(second));
    expect(await bench().siteLog.checkpoint()).toEqual(second);
  });

  it('keeps the groups of a census as they were first counted', async () => {
    const group = (name: string, ledgers: number): object => ({
      group: name,
      ledgers,
      entries: 9,
      root: 'ab'.repeat(32),
    });
    const groups = [group('b', 2), group('a', 1)] as never[];
    await bench().siteLog.keepCensusGroups(5, groups);
    await bench().siteLog.keepCensusGroups(5, [group('a', 7)] as never[]);
    expect(await bench().siteLog.censusGroups(5)).toEqual([group('a', 1), group('b', 2)]);
    expect(await bench().siteLog.censusGroups(6)).toEqual([]);
  });

  it('keeps what each watcher found last', async () => {
    const { siteLog } = bench();
    const found = { watcher: 'sequencer', at: '2026-03-02T08:30:01.000Z', trouble: 'put back' } as const;
    await siteLog.note(found);
    await siteLog.note({ watcher: 'check', at: found.at, trouble: null });
    await siteLog.note({ ...found, trouble: null });
    expect(await siteLog.findings()).toEqual([
      { watcher: 'check', at: found.at, trouble: null },
      { ...found, trouble: null },
    ]);
  });
}
