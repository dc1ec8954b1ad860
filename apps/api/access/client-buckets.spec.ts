import { ClientBuckets } from './client-buckets.js';

function bench(most?: number) {
  const time = { ms: 0 };
  return { time, buckets: new ClientBuckets({ burst: 3, perSecond: 0.5 }, () => time.ms, most) };
}

describe('the buckets of clients', () => {
  it('give each client so many in a row, and as many again as come back in time', () => {
    const { time, buckets } = bench();
    for (let n = 0; n < 3; n += 1) expect(buckets.take('a')).toEqual({ within: true });
    expect(buckets.take('a')).toEqual({ within: false, isFirst: true, retryAfterSeconds: 2 });
    expect(buckets.take('b')).toEqual({ within: true });
    time.ms = 1_500;
    expect(buckets.take('a')).toEqual({ within: false, isFirst: false, retryAfterSeconds: 1 });
    time.ms = 2_000;
    expect(buckets.take('a')).toEqual({ within: true });
    expect(buckets.take('a')).toMatchObject({ within: false, isFirst: true });
  });

  it('never hold more than they did at first', () => {
    const { time, buckets } = bench();
    buckets.take('a');
    buckets.giveBack('a');
    buckets.giveBack('a');
    time.ms = 3_600_000;
    const taken = Array.from({ length: 4 }, () => buckets.take('a').within);
    expect(taken).toEqual([true, true, true, false]);
  });

  it('take back what was not to be counted', () => {
    const { buckets } = bench();
    for (let n = 0; n < 20; n += 1) {
      expect(buckets.take('a').within).toBe(true);
      buckets.giveBack('a');
    }
  });

  it('are so many: a crowd of addresses shares one, and pushes out nobody who is being counted', () => {
    const { time, buckets } = bench(2);
    for (let n = 0; n < 3; n += 1) buckets.take('a');
    buckets.take('b');
    const crowd = Array.from({ length: 5 }, (_, n) => buckets.take(`crowd-${n}`).within);
    expect(crowd).toEqual([true, true, true, false, false]);
    expect(buckets.take('a').within).toBe(false);
    // Whoever was quiet for long enough makes room.
    time.ms = 60_000;
    expect([buckets.take('c').within, buckets.take('d').within]).toEqual([true, true]);
  });
});
