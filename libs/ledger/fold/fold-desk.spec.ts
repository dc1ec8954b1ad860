import { events, SHOP } from '../../../test/support/small-shop.js';
import { BookHarness, memoryHarness } from '../../../test/support/book-harness.js';
import { shardOf } from '../intake/shard-of.js';
import { BookStore } from '../ports/book-store.js';
import { FoldDesk, FoldRound, FoldWatch } from './fold-desk.js';

/** A store that tells which shards each transaction asked for, and waits or fails where a test wants it. */
class ToldStore {
  readonly asked: (readonly number[])[] = [];
  before: (shards: readonly number[]) => Promise<void> = () => Promise.resolve();

  over(store: BookStore): BookStore {
    return new Proxy(store, {
      get: (target, name) => {
        if (name === 'withShards') return this.#withShards(target);
        const member: unknown = Reflect.get(target, name, target);
        return typeof member === 'function' ? (member.bind(target) as unknown) : member;
      },
    });
  }

  #withShards(store: BookStore): BookStore['withShards'] {
    return async (shards, work) => {
      this.asked.push(shards);
      await this.before(shards);
      return store.withShards(shards, work);
    };
  }
}

describe('fold desk', () => {
  let harness: BookHarness;
  let told: ToldStore;
  let desk: FoldDesk;
  let subjects: Map<number, string>;

  beforeEach(async () => {
    harness = await memoryHarness();
    told = new ToldStore();
    desk = new FoldDesk({ ...harness.deps, store: told.over(harness.deps.store) });
    subjects = new Map();
    for (let n = 0; subjects.size < harness.deps.store.shards; n += 1) {
      subjects.set(shardOf(`${SHOP.assembly}/${String(n)}`, harness.deps.store.shards), String(n));
    }
  });

  it('folds a shard that is asked for alone at once', async () => {
    await post(3);
    await desk.fold(3);
    expect(told.asked).toEqual([[3]]);
    expect(await due()).toEqual([]);
  });

  it('folds together what was asked for while others were folded, each shard in one transaction', async () => {
    await Promise.all(ALL.map(post));
    await Promise.all(ALL.map((shard) => desk.fold(shard)));
    expect(told.asked).toEqual([[0], [1, 2, 3, 4, 5, 6, 7, 8], [9, 10, 11, 12, 13, 14, 15]]);
    expect(await due()).toEqual([]);
  });

  it('gives a shard its turn though others are asked for again and again', async () => {
    let again = 0;
    const insist = async (shard: number): Promise<void> => {
      while (again < 40) {
        again += 1;
        await post(shard);
        await desk.fold(shard);
      }
    };
    const insisting = Promise.all([0, 1, 2, 3].map(insist));
    await post(9);
    await desk.fold(9);
    expect(again).toBeLessThan(20);
    expect(await due()).not.toContain(9);
    await insisting;
  });

  it('folds the others where one shard fails, and says so to who asked for that one', async () => {
    await Promise.all(ALL.map(post));
    told.before = (shards) => (shards.includes(5) ? Promise.reject(new Error('fell over')) : Promise.resolve());
    const asked = await Promise.allSettled(ALL.map((shard) => desk.fold(shard)));
    expect(asked.flatMap(({ status }, shard) => (status === 'rejected' ? [shard] : []))).toEqual([5]);
    expect(await due()).toEqual([5]);
  });

  it('folds a shard that failed alone, though it was asked for again meanwhile', async () => {
    await Promise.all([3, 4, 5, 6].map(post));
    let again: Promise<unknown> | undefined;
    told.before = (shards) => {
      if (!shards.includes(5)) return Promise.resolve();
      again ??= Promise.all([5, 6].map((shard) => desk.fold(shard)));
      return shards.length === 1 ? Promise.resolve() : Promise.reject(new Error('fell over'));
    };
    await Promise.all([desk.fold(3), desk.fold(4), desk.fold(5)]);
    await again;
    expect(told.asked.slice(0, 2)).toEqual([[3], [4, 5]]);
    expect(told.asked.filter((shards) => shards.includes(5) && shards.length > 1)).toHaveLength(1);
    expect(await due()).toEqual([]);
  });

  it('waits for a shard that another worker has, and folds the others meanwhile', async () => {
    await Promise.all([2, 3].map(post));
    let theirs: (() => void) | undefined;
    const away = harness.deps.store.withShards([2], () => new Promise<void>((resolve) => (theirs = resolve)));
    await desk.fold(3);
    let seen = false;
    const waiting = desk.fold(2).then(() => (seen = true));
    await desk.fold(3);
    expect(seen).toBe(false);
    expect(await due()).toEqual([2]);
    theirs?.();
    await Promise.all([away, waiting]);
    expect(await due()).toEqual([]);
  });

  it('tells who watches of each fold that folded something, and of each that failed', async () => {
    const rounds: FoldRound[] = [];
    const failures: unknown[] = [];
    const watch: FoldWatch = {
      requests: true,
      folded: (round) => void rounds.push(round),
      failed: (error) => void failures.push(error),
    };
    desk = new FoldDesk({ ...harness.deps, store: told.over(harness.deps.store) }, { watch });
    await post(3);
    await desk.fold(3, undefined, 'wake-up');
    await desk.fold(3);
    expect(rounds).toMatchObject([
      { own: [3], folded: 1, parked: 1, postponed: 0, wakeUps: ['wake-up'], requests: [] },
    ]);
    told.before = () => Promise.reject(new Error('fell over'));
    await expect(desk.fold(4)).rejects.toThrow('fell over');
    expect(failures).toEqual([new Error('fell over')]);
  });

  it('folds nothing for who has stopped waiting', async () => {
    await Promise.all([2, 3].map(post));
    await Promise.all([desk.fold(3), desk.fold(2, AbortSignal.abort())]);
    expect(told.asked).toEqual([[3]]);
  });

  const ALL = Array.from({ length: 16 }, (_, shard) => shard);

  let posted = 0;
  async function post(shard: number): Promise<void> {
    posted += 1;
    const step = { type: 'heatbook.unit.scrapped.v1', data: { note: `number ${String(posted)}` } };
    const { accepted } = await harness.post(
      events(String(subjects.get(shard)), [{ ...step, id: `e${String(posted)}` }]),
    );
    expect(accepted).toBe(1);
  }

  function due(): Promise<readonly number[]> {
    return harness.deps.store.shardsDue();
  }
});
