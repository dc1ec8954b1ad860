import { BookBench, NO_CHANGES, STATION } from './book-bench.contract.js';
import { holdId, sampleHold } from './book-samples.contract.js';
import { TryAgain } from './book-store.js';
import { GENESIS_HASH } from './seal.js';

const UNIT = 'BRD-1/0001';

/** Something that a test lets happen at a chosen moment. */
function gate(): { readonly opened: Promise<void>; readonly open: () => void } {
  let open: () => void = () => undefined;
  const opened = new Promise<void>((resolve) => {
    open = resolve;
  });
  return {
    opened,
    open: () => {
      open();
    },
  };
}

/** Who has to wait for whom. */
export function describeExclusion(bench: () => BookBench): void {
  describeShards(bench);
  describeWholeBook(bench);
  describeLocks(bench);
  describeBystanders(bench);
}

function describeShards(bench: () => BookBench): void {
  it('turns a second worker away from a shard, not from another one, until the first has ended', async () => {
    const { book } = bench();
    const answer = await bench().inShard(0, async () => {
      expect(await book.withShards([0], () => Promise.resolve('worked'))).toBe('busy');
      return book.withShards([1], () => Promise.resolve('worked'));
    });
    expect(answer).toBe('worked');
    expect(await book.withShards([0], () => Promise.resolve('worked'))).toBe('worked');
  });

  it('hands out those of several shards that nobody has, and says which', async () => {
    const { book } = bench();
    await bench().inShard(1, async () => {
      expect(await book.withShards([0, 1, 2], (_tx, own) => Promise.resolve([...own].sort()))).toEqual([0, 2]);
      expect(await book.withShards([1], () => Promise.resolve('worked'))).toBe('busy');
    });
    const both = await book.withShards([0, 1], () => book.withShards([1, 2], (_tx, own) => Promise.resolve(own)));
    expect(both).toEqual([2]);
    expect(await book.withShards([0, 1, 2], (_tx, own) => Promise.resolve(own.length))).toBe(3);
  });

  it('frees a shard whose work threw', async () => {
    const { book } = bench();
    await expect(book.withShards([0], () => Promise.reject(new Error('fell over')))).rejects.toThrow('fell over');
    expect(await book.withShards([0], () => Promise.resolve('worked'))).toBe('worked');
  });

  it('gives a shard to one of many that ask at once', async () => {
    const done = gate();
    const asked = Array.from({ length: 4 }, () => bench().book.withShards([0], () => done.opened.then(() => 'worked')));
    const busy = asked.map(async (answer) => (await answer) === 'busy');
    await bench().giveWay();
    done.open();
    expect((await Promise.all(busy)).filter((was) => !was)).toHaveLength(1);
  });
}

function describeWholeBook(bench: () => BookBench): void {
  it('waits for shards at work before it takes the whole book', async () => {
    const { book } = bench();
    const [started, release] = [gate(), gate()];
    const log: string[] = [];
    const shard = bench().inShard(1, async () => {
      started.open();
      await release.opened;
      log.push('shard ends');
    });
    await started.opened;
    const whole = book.exclusively(async () => {
      log.push('whole begins');
      await bench().giveWay();
      log.push('whole ends');
    });
    await bench().giveWay();
    release.open();
    await Promise.all([shard, whole]);
    expect(log).toEqual(['shard ends', 'whole begins', 'whole ends']);
  });

  it('lets no shard be worked meanwhile, and no other fold over the whole book', async () => {
    const { book } = bench();
    let alone = true;
    let others = 0;
    const intrude = () => {
      others += 1;
      return Promise.resolve(alone);
    };
    const waiting: Promise<boolean | 'busy'>[] = [];
    await book.exclusively(async () => {
      waiting.push(book.withShards([0], intrude), book.withShards([1], intrude), book.exclusively(intrude));
      await bench().giveWay();
      expect(others).toBe(0);
      alone = false;
    });
    const answers = await Promise.all(waiting);
    expect(answers).not.toContain(true);
    expect(answers[2]).toBe(false);
  });

  it('frees the book when its work threw', async () => {
    const { book } = bench();
    await expect(book.exclusively(() => Promise.reject(new Error('fell over')))).rejects.toThrow('fell over');
    expect(await book.exclusively(() => Promise.resolve('worked'))).toBe('worked');
    expect(await book.withShards([0], () => Promise.resolve('worked'))).toBe('worked');
  });
}

function describeLocks(bench: () => BookBench): void {
  it('makes the second of two that load one subject wait, and shows it what the first wrote', async () => {
    const loaded = gate();
    const log: string[] = [];
    const first = bench().inShard(0, async (tx) => {
      await tx.load([UNIT]);
      loaded.open();
      await bench().giveWay();
      await bench().appendIn(tx, UNIT, 2);
      log.push('first ends');
    });
    await loaded.opened;
    const second = bench().inShard(1, async (tx) => {
      const [record] = await tx.load([UNIT]);
      log.push(`second sees ${record?.headSeq ?? -1}`);
    });
    await Promise.all([first, second]);
    expect(log).toEqual(['first ends', 'second sees 2']);
  });

  it('lets one of two bring a new subject into the book, and asks the other to try again', async () => {
    const empty = { key: UNIT, state: null, headSeq: 0, headHash: GENESIS_HASH };
    const { subject, entries } = bench().grown(empty);
    const bring = (shard: number) =>
      bench().inShard(shard, async (tx) => {
        await tx.load([], [UNIT]);
        await bench().giveWay();
        await tx.write({ ...NO_CHANGES, subjects: [subject], entries });
        await bench().giveWay();
      });
    const results = await Promise.allSettled([bring(0), bring(1)]);
    expect(results.flatMap((result) => (result.status === 'rejected' ? [result.reason as unknown] : []))).toEqual([
      expect.any(TryAgain),
    ]);
    expect(await bench().read.subject(UNIT)).toEqual(subject);
  });

  it('loses no entry and locks nobody out when two shards want the same subjects in opposite order', async () => {
    const keys = ['devices/D1', UNIT, 'devices/D2'];
    const grow = async (shard: number, wanted: string[]) => {
      for (let round = 0; round < 10; round += 1) {
        await bench().inShard(shard, async (tx) => {
          const grown = (await tx.load(wanted)).map((record) => bench().grown(record));
          const subjects = grown.map(({ subject }) => subject);
          await tx.write({ ...NO_CHANGES, subjects, entries: grown.flatMap(({ entries }) => entries) });
        });
      }
    };
    await Promise.all([grow(0, keys), grow(1, [...keys].reverse())]);
    expect((await bench().read.subjects(keys)).map(({ headSeq }) => headSeq)).toEqual([20, 20, 20]);
  });

  it('locks a hold that is read by its id', async () => {
    await bench().write({ holds: [sampleHold('h1', { evidence: { summary: '' } })] });
    const addTo = (shard: number) =>
      bench().inShard(shard, async (tx) => {
        const hold = await tx.hold(holdId('h1'));
        await bench().giveWay();
        await tx.write({
          ...NO_CHANGES,
          holds: [sampleHold('h1', { evidence: { summary: `${hold?.evidence.summary ?? '?'}+` } })],
        });
      });
    await Promise.all([addTo(0), addTo(1)]);
    expect(await bench().read.holdById(holdId('h1'))).toMatchObject({ evidence: { summary: '++' } });
  });
}

function describeBystanders(bench: () => BookBench): void {
  it('accepts events and answers reads while folds are at work', async () => {
    const { book, read } = bench();
    await bench().append(UNIT);
    await bench().inShard(0, async (tx) => {
      await tx.load([UNIT]);
      expect(await bench().accept('e1')).toEqual(['accepted']);
      expect(await read.subject(UNIT)).toMatchObject({ headSeq: 1 });
    });
    await book.exclusively(async (tx) => {
      await tx.load([UNIT]);
      expect(await bench().accept('e2')).toEqual(['accepted']);
      expect(await read.eventStatus({ source: STATION, id: 'e2' })).toMatchObject({ state: 'pending' });
    });
    expect(await bench().pendingIds()).toEqual(['e1', 'e2']);
  });
}
