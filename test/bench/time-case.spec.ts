import { timeCase } from './time-case.js';

describe('timing a case', () => {
  it('does each run once a round and once before, in turns', async () => {
    const done: string[] = [];
    const run = (name: string) => ({ name, run: () => Promise.resolve(done.push(name)) });
    const timings = await timeCase({ runs: [run('product'), run('baseline')], rounds: 2 });
    expect(done.join(' ')).toBe('product baseline product baseline product baseline');
    expect(timings.map(({ name }) => name)).toEqual(['product', 'baseline']);
  });

  it('divides the time of the product by that of each baseline, round by round, the first left out', async () => {
    let nowMs = 0;
    const taking = (name: string, durations: readonly number[]) => {
      const left = [...durations];
      return { name, run: () => Promise.resolve((nowMs += left.shift() ?? NaN)) };
    };
    const runs = [taking('product', [900, 20, 60, 40]), taking('baseline', [1, 5, 10, 20])] as const;
    expect(await timeCase({ runs, rounds: 3 }, () => nowMs)).toEqual([
      { name: 'product', medianMs: 40, fastestMs: 20, ratio: 1 },
      { name: 'baseline', medianMs: 10, fastestMs: 5, ratio: 4 },
    ]);
  });
});
