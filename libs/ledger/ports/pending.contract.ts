import { BookBench, eventId, NO_CHANGES, number, STATION } from './book-bench.contract.js';
import { UNKNOWN_ASSEMBLY } from './book-samples.contract.js';
import { PendingEvent } from './book-store.js';

function park(pending: readonly PendingEvent[]) {
  return { parked: pending.map((event) => ({ number: number(event), reason: UNKNOWN_ASSEMBLY })) };
}

/** Events between the inbox and the ledger: claimed, done, postponed, parked and retried. */
export function describePending(bench: () => BookBench): void {
  describeClaims(bench);
  describePostponed(bench);
  describeParked(bench);
}

function describeClaims(bench: () => BookBench): void {
  it('claims the events of a shard, oldest in the inbox first, up to the limit', async () => {
    const shard = await bench().shardFor('BRD-1/0001');
    await bench().accept('e3', 'e1', 'e2');
    const claimed = await bench().inShard(shard, (tx) => tx.claim([shard], 2));
    expect(claimed.map(eventId)).toEqual(['e3', 'e1']);
    const [first] = claimed;
    expect(first).toMatchObject({ attempts: 0, retried: false });
    expect(first?.event).toEqual({
      type: 'heatbook.unit.scrapped.v1',
      subject: 'BRD-1/0001',
      station: 'bench-1',
      order: { at: '2026-03-02T08:30:00.000000000Z', source: STATION, id: 'e3' },
      time: '2026-03-02T09:30:00+01:00',
      data: { note: 'as seen' },
    });
  });

  it('claims of several shards the oldest first, whichever they are of, up to the limit', async () => {
    const { book } = bench();
    const subjects = Array.from({ length: 12 }, (_, index) => `BRD-1/${String(index)}`);
    for (const subject of subjects) await book.accept([bench().incoming(`of ${subject}`, subject)]);
    const [left = 0, ...asked] = await book.shardsDue();
    const own = new Set(await bench().inShard(left, async (tx) => (await tx.claim([left], 100)).map(eventId)));
    const others = subjects.map((subject) => `of ${subject}`).filter((id) => !own.has(id));
    expect(new Set([asked.length > 1, own.size > 0])).toEqual(new Set([true]));
    const claim = (limit: number) => book.withShards(asked, async (tx) => (await tx.claim(asked, limit)).map(eventId));
    expect(await claim(100)).toEqual(others);
    expect(await claim(5)).toEqual(others.slice(0, 5));
  });

  it('gives every event to one shard, the same for all events of a subject', async () => {
    const { book } = bench();
    const subjects = Array.from({ length: 30 }, (_, index) => `BRD-1/${index}`);
    await book.accept(subjects.map((subject) => bench().incoming(`first of ${subject}`, subject)));
    await book.accept(subjects.map((subject) => bench().incoming(`second of ${subject}`, subject)));
    const shardsOf = new Map<string, number[]>();
    const due = await book.shardsDue();
    for (const shard of due) {
      for (const { event } of await bench().inShard(shard, (tx) => tx.claim([shard], 100)))
        shardsOf.set(event.subject, [...(shardsOf.get(event.subject) ?? []), shard]);
    }
    expect([...shardsOf.values()].map((shards) => [shards.length, new Set(shards).size])).toEqual(
      subjects.map(() => [2, 1]),
    );
    expect(due.every((shard) => Number.isInteger(shard) && shard >= 0 && shard < book.shards)).toBe(true);
    expect(due.length).toBeGreaterThan(1);
  });

  it('tells of which devices others have claimed what is due', async () => {
    const { book } = bench();
    const away = await deviceAway(bench(), 'BRD-1/0001');
    const keys = [away.key, 'devices/nowhere'];
    await book.accept([bench().incoming('of the device', away.key), bench().incoming('of the unit', 'BRD-1/0001')]);
    await bench().inShard(away.shard, async (theirs) => {
      expect(await theirs.claim([away.shard], 10)).toHaveLength(1);
      expect(await theirs.unclaimedDevices(keys)).toEqual([]);
      await bench().inShard(away.unit.shard, async (tx) => {
        expect(await tx.claimDevices(keys)).toEqual([]);
        expect(await tx.unclaimedDevices(keys)).toEqual([away.key]);
        expect(await tx.unclaimedDevices([])).toEqual([]);
      });
    });
  });

  it('claims what waits for devices along, whatever their shard, and leaves it to nobody else', async () => {
    const { book } = bench();
    const away = await deviceAway(bench(), 'BRD-1/0001');
    const { shard } = away.unit;
    await book.accept([bench().incoming('of the device', away.key), bench().incoming('of the unit', 'BRD-1/0001')]);
    await bench().inShard(shard, async (tx) => {
      expect((await tx.claim([shard], 10)).map(eventId)).toEqual(['of the unit']);
      expect((await tx.claimDevices([away.key, 'devices/nowhere'])).map(eventId)).toEqual(['of the device']);
      expect(await tx.claimDevices([away.key])).toEqual([]);
      expect(await bench().inShard(away.shard, (other) => other.claim([away.shard], 10))).toEqual([]);
    });
    expect(await bench().inShard(away.shard, (tx) => tx.claim([away.shard], 10))).toHaveLength(1);
  });

  it('leaves claimed events pending until they are done in a committed write', async () => {
    await bench().accept('e1', 'e2');
    expect(await bench().pendingIds()).toEqual(['e1', 'e2']);
    expect(await bench().pendingIds()).toEqual(['e1', 'e2']);
    await bench().settle((pending) => ({ done: pending.slice(0, 1).map(number) }));
    expect(await bench().pendingIds()).toEqual(['e2']);
  });

  it('does not claim again what the same transaction has done', async () => {
    const shard = await bench().shardFor('BRD-1/0001');
    await bench().accept('e1', 'e2', 'e3');
    const then = await bench().inShard(shard, async (tx) => {
      const claimed = await tx.claim([shard], 2);
      await tx.write({ ...NO_CHANGES, done: claimed.map(number) });
      return tx.claim([shard], 2);
    });
    expect(then.map(eventId)).toEqual(['e3']);
  });

  it('names the shards that have events due', async () => {
    const { book } = bench();
    expect(await book.shardsDue()).toEqual([]);
    const shard = await bench().shardFor('BRD-1/0001');
    await bench().accept('e1', 'e2');
    expect(await book.shardsDue()).toEqual([shard]);
    await bench().settle((pending) => ({ done: pending.map(number) }));
    expect(await book.shardsDue()).toEqual([]);
  });
}

/** A device whose events wait in another shard than those of a unit. */
async function deviceAway(
  bench: BookBench,
  unit: string,
): Promise<{ key: string; shard: number; unit: { shard: number } }> {
  const own = await bench.shardFor(unit);
  for (let n = 0; ; n += 1) {
    const key = `devices/D-${String(n)}`;
    const shard = await bench.shardFor(key);
    if (shard !== own) return { key, shard, unit: { shard: own } };
  }
}

function describePostponed(bench: () => BookBench): void {
  it('leaves a postponed event alone until its delay is over, and counts its attempts', async () => {
    const { book, read } = bench();
    await bench().accept('e1', 'e2', 'e3');
    await bench().settle(([first, second]) => ({
      postponed: [
        ...(first === undefined ? [] : [{ number: number(first), delayMs: 200, error: 'no luck' }]),
        ...(second === undefined ? [] : [{ number: number(second), delayMs: 600_000, error: 'no luck' }]),
      ],
    }));
    await bench().after(200, async () => (await bench().pendingIds()).length === 2);
    expect((await bench().pending()).map((event) => [eventId(event), event.attempts])).toEqual([
      ['e1', 1],
      ['e3', 0],
    ]);
    expect(await read.backlog()).toMatchObject({ pending: 3, parked: 0 });
    await bench().settle((pending) => ({ done: pending.map(number) }));
    expect(await book.shardsDue()).toEqual([]);
    expect(await read.eventStatus({ source: STATION, id: 'e2' })).toMatchObject({ state: 'pending' });
  });

  it('counts on when an event is postponed again', async () => {
    await bench().accept('e1');
    for (const error of ['no luck', 'again none']) {
      await bench().settle((pending) => ({
        postponed: pending.map((event) => ({ number: number(event), delayMs: 0, error })),
      }));
      await bench().after(0, async () => (await bench().pendingIds()).length === 1);
    }
    expect((await bench().pending()).map(({ attempts }) => attempts)).toEqual([2]);
  });
}

function describeParked(bench: () => BookBench): void {
  it('takes a parked event out of the way until it is unparked, and says then that it is retried', async () => {
    const { book } = bench();
    await bench().accept('e1', 'e2', 'e3');
    const [shard] = await book.shardsDue();
    await bench().settle((pending) => park(pending.slice(0, 2)));
    expect(await bench().pendingIds()).toEqual(['e3']);

    expect(await book.unpark({ source: STATION, id: 'e2' })).toEqual({ count: 1, shards: [shard] });
    // In the order of the inbox, not of the retry.
    expect((await bench().pending()).map((event) => [eventId(event), event.retried])).toEqual([
      ['e2', true],
      ['e3', false],
    ]);
    expect(await bench().read.backlog()).toMatchObject({ pending: 2, parked: 1 });
  });

  it('lets go of a parked event for good, and only of one that is parked', async () => {
    const { book, read } = bench();
    await bench().accept('e1', 'e2');
    await bench().settle((pending) => park(pending.slice(0, 1)));
    const drop = (id: string) => bench().inShard(0, (tx) => tx.dropParked({ source: STATION, id }));
    expect(await drop('e2')).toBe(false);
    expect(await drop('nothing')).toBe(false);
    expect(await drop('e1')).toBe(true);
    expect(await drop('e1')).toBe(false);
    expect(await read.backlog()).toMatchObject({ pending: 1, parked: 0 });
    expect(await book.unpark()).toEqual({ count: 0, shards: [] });
    expect(await read.eventStatus({ source: STATION, id: 'e1' })).toMatchObject({ state: 'applied' });
  });

  it('unparks all at once and names their shards', async () => {
    const { book } = bench();
    const subjects = Array.from({ length: 12 }, (_, index) => `BRD-1/${index}`);
    await book.accept(subjects.map((subject) => bench().incoming(subject, subject)));
    const due = await book.shardsDue();
    await bench().settle(park);
    expect(await book.shardsDue()).toEqual([]);
    const { count, shards } = await book.unpark();
    expect(count).toBe(12);
    expect([...shards].sort((a, b) => a - b)).toEqual([...due].sort((a, b) => a - b));
    expect((await bench().pending()).every(({ retried }) => retried)).toBe(true);
  });

  it('finds nothing to unpark where nothing is parked', async () => {
    const { book } = bench();
    await bench().accept('e1');
    expect(await book.unpark()).toEqual({ count: 0, shards: [] });
    expect(await book.unpark({ source: STATION, id: 'e1' })).toEqual({ count: 0, shards: [] });
    expect(await book.unpark({ source: STATION, id: 'never seen' })).toEqual({ count: 0, shards: [] });
    expect((await bench().pending()).map(({ retried }) => retried)).toEqual([false]);
  });

  it('can park a retried event again', async () => {
    await bench().accept('e1');
    await bench().settle(park);
    await bench().book.unpark();
    await bench().settle(park);
    expect(await bench().pendingIds()).toEqual([]);
    expect(await bench().book.unpark()).toMatchObject({ count: 1 });
    expect((await bench().pending()).map(({ retried }) => retried)).toEqual([true]);
  });
}
