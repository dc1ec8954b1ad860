import { setImmediate as turn } from 'node:timers/promises';
import fc from 'fast-check';
import { JobRequest } from '../ports/job-queue.js';
import { FoldWaker } from './fold-waker.js';
import { shardOf } from './shard-of.js';

function setUp(shards = 8, restMs = 1) {
  const added: (readonly JobRequest[])[] = [];
  const lines: string[] = [];
  const state = { isAway: false };
  const note = (message: string): void => {
    lines.push(message);
  };
  const addMany = async (jobs: readonly JobRequest[]): Promise<void> => {
    await Promise.resolve();
    if (state.isAway) throw new Error('no carrier');
    added.push(jobs);
  };
  return {
    waker: new FoldWaker({ addMany }, shards, { info: note, warn: note, error: note }, { restMs }),
    added,
    lines,
    state,
  };
}

describe('waking the fold', () => {
  it('sends each shard once, and what comes meanwhile together', async () => {
    const { waker, added } = setUp();
    waker.wake(['A/1', 'A/1']);
    await turn();
    for (let serial = 0; serial < 100; serial += 1) waker.wake([`A/${serial}`]);
    await waker.idle();
    expect(added).toHaveLength(2);
    expect(added[0]).toEqual([
      { name: 'fold-shard', payload: { shard: shardOf('A/1', 8) }, options: { dedupeKey: String(shardOf('A/1', 8)) } },
    ]);
    expect(added[1]).toHaveLength(8);
  });

  it('sends together what one turn of the event loop brings', async () => {
    const { waker, added } = setUp();
    for (let serial = 0; serial < 100; serial += 1) waker.wake([`A/${serial}`]);
    await waker.idle();
    expect(added.map(({ length }) => length)).toEqual([8]);
  });

  it('rests between two bundles, and not before the first', async () => {
    const { waker, added } = setUp(8, 300);
    const began = performance.now();
    waker.wake(['A/1']);
    while (added.length < 1) await turn();
    expect(performance.now() - began).toBeLessThan(290);
    waker.wake(['A/1']);
    while (added.length < 2) await turn();
    expect(performance.now() - began).toBeGreaterThan(290);
    await waker.idle();
  });

  it('logs once that the carrier is away, and once that it is back', async () => {
    const { waker, added, lines, state } = setUp();
    state.isAway = true;
    for (let time = 0; time < 3; time += 1) {
      waker.wake(['A/1']);
      await waker.idle();
    }
    state.isAway = false;
    waker.wake(['A/1']);
    await waker.idle();
    expect(lines).toEqual([expect.stringContaining('away'), expect.stringContaining('again')]);
    expect(added).toHaveLength(1);
  });
});

describe('the shard of a subject', () => {
  it('is one of the shards, and always the same one', () => {
    fc.assert(
      fc.property(fc.string(), fc.integer({ min: 1, max: 4096 }), (subject, shards) => {
        const shard = shardOf(subject, shards);
        expect(Number.isInteger(shard) && shard >= 0 && shard < shards).toBe(true);
        expect(shardOf(subject, shards)).toBe(shard);
      }),
    );
  });

  it('is FNV-1a, as its authors publish it', () => {
    expect(shardOf('', 2 ** 32)).toBe(0x811c9dc5);
    expect(shardOf('a', 2 ** 32)).toBe(0xe40c292c);
    expect(shardOf('foobar', 2 ** 32)).toBe(0xbf9cf968);
  });

  it('spreads serials evenly', () => {
    const counts = Array<number>(64).fill(0);
    for (let serial = 0; serial < 6400; serial += 1) {
      const shard = shardOf(`CTRL-7/SN${String(serial).padStart(6, '0')}`, 64);
      counts[shard] = (counts[shard] ?? 0) + 1;
    }
    expect(Math.min(...counts)).toBeGreaterThan(50);
    expect(Math.max(...counts)).toBeLessThan(150);
  });
});
