import { ClearanceRecord } from '../clearances/clearance-record.js';
import { BookBench, eventId, NO_CHANGES, number } from './book-bench.contract.js';
import { holdId, sampleHold } from './book-samples.contract.js';
import { BookTransaction } from './book-store.js';
import { KeyedRequest } from './clearance-store.js';
import { Seal } from './seal.js';
import { MakeStores, useBench } from './use-bench.contract.js';

const UNIT = 'BRD-1/0001';
const EARLIER = '2026-03-02T07:59:00.000Z';
const NOW = '2026-03-02T08:00:00.000Z';
const LATER = '2026-03-02T09:00:00.000Z';

function id(n: number): string {
  return `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`;
}

/** A clearance of one step that reserves an excursion of device D1. */
function sample(n: number, given: Partial<ClearanceRecord> = {}): ClearanceRecord {
  const subject = { kind: 'device', device: 'D1' } as const;
  const reserves = [{ subject, limit: 'device-excursions', counted: 1, possible: 0 } as const];
  return {
    id: id(n),
    subject: UNIT,
    station: 'bench-1',
    operator: 'ann',
    grantedTo: 'bench-1',
    grantedAt: new Date(Date.parse(EARLIER) + n).toISOString(),
    expiresAt: LATER,
    returnedAt: null,
    returnedBy: null,
    lapsedAt: null,
    steps: [{ plan: { type: 'heatbook.site.heated.v1', refdes: 'U7' }, device: null, reserves, use: null }],
    spends: [],
    warnings: [],
    rules: 3,
    ...given,
  };
}

const used = (n: number): ClearanceRecord => {
  const one = sample(n);
  return { ...one, steps: one.steps.map((step) => ({ ...step, use: { source: '/stations/bench-1', id: 'e1' } })) };
};
const returned = (n: number): ClearanceRecord => sample(n, { returnedAt: NOW, returnedBy: 'ann' });
const over = (n: number): ClearanceRecord => sample(n, { expiresAt: NOW });

const request: KeyedRequest = { caller: 'key bench-1', key: 'k1', bodyHash: 'a' };

/** What every book must do with clearances. */
export function describeClearanceStore(name: string, make: MakeStores, seal: Seal): void {
  describe(`clearances: ${name}`, () => {
    const bench = useBench(make, seal);
    describeRecords(bench);
    describeAnswers(bench);
    describeBesideFolds(bench);
  });
}

function describeRecords(bench: () => BookBench): void {
  it('keeps them as they are, and as they are after a change', async () => {
    await bench().write({ clearances: [sample(1)] });
    expect(await bench().read.clearance(id(1))).toEqual(sample(1));
    await bench().write({ clearances: [used(1)] });
    expect(await bench().read.clearance(id(1))).toEqual(used(1));
    expect(await bench().read.clearance(id(2))).toBeUndefined();
    expect(await bench().read.clearance('no id')).toBeUndefined();
    const found = await bench().book.besideFolds((tx) => tx.clearances([id(2), 'no id', id(1)]));
    expect(found).toEqual([used(1)]);
  });

  it('finds them by what they are for and by what they reserve, open or all', async () => {
    const loose = sample(5, { subject: 'devices/D9', steps: [] });
    await bench().write({ clearances: [sample(1), used(2), returned(3), over(4), loose] });
    const { book, read } = bench();
    const all = (key: string) => book.besideFolds(async (tx) => (await tx.clearancesOn([key])).map((one) => one.id));
    expect(await all(UNIT)).toEqual([1, 2, 3, 4].map(id));
    expect(await all('devices/D1')).toEqual([1, 2, 3, 4].map(id));
    expect(await all('devices/D9')).toEqual([id(5)]);
    expect(await all('BRD-1/0002')).toEqual([]);
    const open = await book.besideFolds((tx) => tx.clearancesOn(['devices/D1'], NOW));
    expect(open).toEqual([sample(1)]);
    expect(await read.openClearances([UNIT, 'devices/D1'], NOW)).toEqual([sample(1)]);
    expect(await read.openClearances([UNIT], LATER)).toEqual([]);
    expect(await book.besideFolds((tx) => tx.subjectsReaching(['devices/D1'], NOW))).toEqual([UNIT]);
  });

  it('lists them newest first, by state as of now, page by page', async () => {
    const loose = sample(6, { subject: 'devices/D9' });
    await bench().write({ clearances: [sample(1), used(2), returned(3), over(4), sample(5), loose] });
    const list = async (filter: object, page = { limit: 10, cursor: null as string | null }) => {
      const { items, next } = await bench().read.clearanceList(filter, NOW, page);
      return { ids: items.map((one) => one.id), next };
    };
    expect((await list({})).ids).toEqual([6, 5, 4, 3, 2, 1].map(id));
    expect((await list({ state: 'granted' })).ids).toEqual([6, 5, 1].map(id));
    expect((await list({ state: 'used' })).ids).toEqual([id(2)]);
    expect((await list({ state: 'returned' })).ids).toEqual([id(3)]);
    expect((await list({ state: 'lapsed' })).ids).toEqual([id(4)]);
    expect((await list({ assembly: 'BRD-1', serial: '0001', state: 'granted' })).ids).toEqual([5, 1].map(id));
    expect((await list({ device: 'D9' })).ids).toEqual([id(6)]);
    expect((await list({ station: 'bench-2' })).ids).toEqual([]);
    const first = await list({}, { limit: 4, cursor: null });
    expect(first.ids).toEqual([6, 5, 4, 3].map(id));
    expect(await list({}, { limit: 4, cursor: first.next })).toEqual({ ids: [2, 1].map(id), next: null });
    await expect(list({}, { limit: 4, cursor: 'none of ours' })).rejects.toThrow(RangeError);
  });

  it('tells which ran out with steps left, until their lapse is written', async () => {
    await bench().write({ clearances: [sample(1), used(2), returned(3), over(4), over(5)] });
    const due = () => bench().book.clearancesOver(NOW, 10);
    expect(await due()).toEqual([4, 5].map((n) => ({ id: id(n), subject: UNIT })));
    expect(await bench().book.clearancesOver(NOW, 1)).toHaveLength(1);
    await bench().write({ clearances: [{ ...over(4), lapsedAt: NOW }] });
    expect(await due()).toEqual([{ id: id(5), subject: UNIT }]);
  });
}

function describeAnswers(bench: () => BookBench): void {
  it('gives the answer of a request again, and tells another one under the same key', async () => {
    const { book } = bench();
    const first = await book.besideFolds(async (tx) => {
      const before = await tx.answerBefore(request);
      await tx.keepAnswer(request, { granted: [1] });
      return before;
    });
    expect(first).toBeUndefined();
    const again = (asked: KeyedRequest) => book.besideFolds((tx) => tx.answerBefore(asked));
    expect(await again(request)).toEqual({ answer: { granted: [1] } });
    expect(await again({ ...request, bodyHash: 'b' })).toBe('other-body');
    expect(await again({ ...request, caller: 'key bench-2', bodyHash: 'b' })).toBeUndefined();
  });

  it('lets the same request wait for the first, and take its place where that came to nothing', async () => {
    const { book } = bench();
    const asked: number[] = [];
    const ask = (n: number, fail: boolean) =>
      book.besideFolds(async (tx) => {
        if ((await tx.answerBefore(request)) !== undefined) return;
        asked.push(n);
        await bench().giveWay();
        if (fail) throw new Error('came to nothing');
        await tx.keepAnswer(request, n);
      });
    const all = await Promise.allSettled([ask(1, true), ask(1, true)]);
    expect([all.map(({ status }) => status), asked]).toEqual([
      ['rejected', 'rejected'],
      [1, 1],
    ]);
    await Promise.all([ask(2, false), ask(2, false), ask(2, false)]);
    expect(asked).toEqual([1, 1, 2]);
  });

  it('forgets answers that are old enough', async () => {
    const { book } = bench();
    await book.besideFolds((tx) => tx.answerBefore(request));
    await book.forgetAnswers('2000-01-01T00:00:00Z');
    expect(await book.besideFolds((tx) => tx.answerBefore(request))).toEqual({ answer: null });
    await book.forgetAnswers('2100-01-01T00:00:00Z');
    expect(await book.besideFolds((tx) => tx.answerBefore(request))).toBeUndefined();
  });
}

function describeBesideFolds(bench: () => BookBench): void {
  it('runs while a fold has the shard, not while somebody has the whole book', async () => {
    const { book } = bench();
    const order: string[] = [];
    await bench().inShard(0, async () => {
      await book.besideFolds(async (tx) => {
        await tx.setupVersion();
        order.push('beside');
      });
      order.push('shard');
    });
    let late: Promise<void> = Promise.resolve();
    await book.exclusively(async (tx) => {
      late = book.besideFolds(async (other) => {
        await other.setupVersion();
        order.push('after');
      });
      await bench().giveWay();
      await tx.setupVersion();
      order.push('whole');
    });
    await late;
    expect(order).toEqual(['beside', 'shard', 'whole', 'after']);
  });

  it('waits for a fold that has claimed events of its subjects, and takes what that left, due or not', async () => {
    const { book } = bench();
    const shard = await bench().shardFor(UNIT);
    await bench().accept('e1', 'e2', 'e3');
    await book.accept([bench().incoming('of the device', 'devices/D1'), bench().incoming('elsewhere', 'BRD-1/0002')]);
    let claimed: Promise<readonly string[]> = Promise.resolve([]);
    await bench().inShard(shard, async (tx) => {
      const pending = (await tx.claim([shard], 10)).filter(({ event }) => event.subject === UNIT);
      claimed = book.besideFolds(async (other) =>
        (await other.claimSubjects([UNIT, 'devices/D1'])).map(eventId).sort(),
      );
      await bench().giveWay();
      const [first, second] = pending.map((event) => number(event));
      await tx.write({
        ...NO_CHANGES,
        done: first === undefined ? [] : [first],
        postponed: second === undefined ? [] : [{ number: second, delayMs: 60_000, error: 'spec' }],
      });
    });
    expect(await claimed).toEqual(['e2', 'e3', 'of the device']);
  });

  it('reads what stands about subjects once it has them, and not as it was before', async () => {
    await bench().append(UNIT);
    await bench().write({ clearances: [sample(1), over(2)], holds: [sampleHold('h1')] });
    const asked = { keys: [UNIT, 'devices/D2'], ifKnown: ['devices/D1', UNIT], alsoHeld: ['stations/S1'], openAt: NOW };
    const onStation = sampleHold('h2', { subject: { kind: 'station', station: 'S1' }, unit: null });
    let standing: ReturnType<BookTransaction['standing']> | undefined;
    await bench().inShard(0, async (tx) => {
      await tx.load([UNIT]);
      standing = bench().book.besideFolds((other) => other.standing(asked));
      await bench().giveWay();
      await tx.write({ ...NO_CHANGES, clearances: [returned(1), sample(3)], holds: [onStation] });
    });
    const { records, holds, clearances } = (await standing) ?? { records: [], holds: [], clearances: [] };
    expect(records.map(({ key, headSeq }) => [key, headSeq])).toEqual([
      [UNIT, 1],
      ['devices/D2', 0],
    ]);
    expect(holds.map(({ id: hold }) => hold).sort()).toEqual([holdId('h1'), holdId('h2')].sort());
    expect(clearances).toEqual([sample(3)]);
  });

  const asked = { keys: [UNIT], ifKnown: [], alsoHeld: [], openAt: NOW };

  it('reads what stands where nothing is pending, and has locked it', async () => {
    await bench().append(UNIT);
    await bench().write({ clearances: [sample(1)], holds: [sampleHold('h1')] });
    let late: Promise<unknown> = Promise.resolve();
    let ended = false;
    await bench().book.besideFolds(async (tx) => {
      const found = await tx.pendingOrStanding([UNIT, 'devices/D1'], asked);
      expect(found).toEqual({ standing: await tx.standing(asked) });
      expect(found).toMatchObject({
        standing: { records: [{ key: UNIT, headSeq: 1 }], holds: [{}], clearances: [{}] },
      });
      late = bench()
        .book.besideFolds((other) => other.load([UNIT]))
        .then(() => {
          expect(ended).toBe(true);
        });
      await bench().giveWay();
      ended = true;
    });
    await late;
  });

  it('claims what is pending instead, and keeps nobody from the subjects', async () => {
    await bench().append(UNIT);
    await bench().accept('e1');
    await bench().book.besideFolds(async (tx) => {
      const found = await tx.pendingOrStanding([UNIT, 'devices/D1'], asked);
      expect(found.pending?.map(eventId)).toEqual(['e1']);
      expect(found).not.toHaveProperty('standing');
      expect(await bench().book.besideFolds((other) => other.load([UNIT]))).toMatchObject([{ headSeq: 1 }]);
      expect(await tx.load([UNIT])).toMatchObject([{ headSeq: 1 }]);
    });
  });

  it('commits what was left to go with it', async () => {
    await bench().book.besideFolds(async (tx) => {
      await tx.answerBefore(request);
      tx.leave(tx.keepAnswer(request, { granted: [1] }));
      tx.leave(tx.write({ ...NO_CHANGES, clearances: [sample(1)] }));
    });
    expect(await bench().read.clearance(id(1))).toEqual(sample(1));
    expect(await bench().book.besideFolds((tx) => tx.answerBefore(request))).toEqual({ answer: { granted: [1] } });
  });

  it('commits nothing where something fails that was left to go with it', async () => {
    const failing = bench().book.besideFolds(async (tx) => {
      await tx.setupVersion();
      tx.leave(tx.write({ ...NO_CHANGES, clearances: [sample(1)] }));
      tx.leave(Promise.reject(new Error('it fell over')));
    });
    await expect(failing).rejects.toThrow('it fell over');
    expect(await bench().read.clearance(id(1))).toBeUndefined();
  });

  it('reads subjects without waiting for who has them', async () => {
    await bench().append(UNIT);
    await bench().inShard(0, async (tx) => {
      await tx.load([UNIT]);
      const peeked = await bench().book.besideFolds((other) => other.peek([UNIT, 'BRD-1/0002']));
      expect(peeked).toMatchObject([{ key: UNIT, headSeq: 1 }]);
    });
  });
}
