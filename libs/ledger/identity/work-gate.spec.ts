import { WorkGate, WorkGateFull } from './work-gate.js';

/** Work that ends when it is told to. */
function work() {
  const ends: (() => void)[] = [];
  let [running, most] = [0, 0];
  return {
    ends,
    most: () => most,
    do: async (): Promise<void> => {
      running += 1;
      most = Math.max(most, running);
      await new Promise<void>((resolve) => ends.push(resolve));
      running -= 1;
    },
  };
}

/** Lets everything end that begins, until `count` have. */
async function endAll(ends: (() => void)[], count: number): Promise<void> {
  let ended = 0;
  while (ended < count) {
    const end = ends.shift();
    if (end !== undefined) ended += 1;
    end?.();
    await Promise.resolve();
  }
}

describe('a gate', () => {
  it('lets two work at a time, everybody else in turn, and refuses whoever finds the line full', async () => {
    const gate = new WorkGate(2, 3);
    const bench = work();
    const done = [1, 2, 3, 4, 5].map(() => gate.run(bench.do));
    await expect(gate.run(bench.do)).rejects.toThrow(WorkGateFull);
    await endAll(bench.ends, 5);
    await Promise.all(done);
    expect(bench.most()).toBe(2);
  });

  it('has its places back after work that failed', async () => {
    const gate = new WorkGate(1, 0);
    await expect(gate.run(() => Promise.reject(new Error('broken')))).rejects.toThrow('broken');
    expect(await gate.run(() => Promise.resolve('well'))).toBe('well');
  });
});
