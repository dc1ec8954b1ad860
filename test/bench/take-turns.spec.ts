import { takeTurns } from './take-turns.js';

/** A measure that gives these figures one after the other. */
function giving(name: string, figures: readonly number[], log: string[] = []) {
  const left = [...figures];
  return {
    name,
    unit: 'ms',
    take: () => {
      log.push(name);
      return Promise.resolve(left.shift() ?? NaN);
    },
  };
}

describe('taking turns', () => {
  it('takes each measure once a round, in turns, warming up before', async () => {
    const log: string[] = [];
    const measures = [giving('product', [1, 2, 3], log), giving('baseline', [1, 2, 3], log)];
    await takeTurns({ measures, ratios: [], rounds: 2, warmUps: 1 });
    expect(log.join(' ')).toBe('product baseline product baseline product baseline');
  });

  it('divides round by round, the warm-up left out, and tells median and spread', async () => {
    const measures = [giving('product', [900, 20, 60, 40]), giving('baseline', [1, 5, 10, 20])];
    const ratios = [{ name: 'product/baseline', of: 'product', over: 'baseline' }];
    expect(await takeTurns({ measures, ratios, rounds: 3, warmUps: 1 })).toEqual({
      figures: [
        { name: 'product', unit: 'ms', value: 40, runs: 3, min: 20, max: 60 },
        { name: 'baseline', unit: 'ms', value: 10, runs: 3, min: 5, max: 20 },
      ],
      ratios: [{ name: 'product/baseline', value: 4, runs: 3, min: 2, max: 6 }],
    });
  });

  it.each([
    [{ atLeast: 2 }, true],
    [{ atLeast: 2.1 }, false],
    [{ atMost: 2 }, true],
    [{ atMost: 1.9 }, false],
  ])('says whether %j is reached by 2', async (goal, reached) => {
    const measures = [giving('product', [4]), giving('baseline', [2])];
    const ratios = [{ name: 'of', of: 'product', over: 'baseline', goal }];
    const findings = await takeTurns({ measures, ratios, rounds: 1, warmUps: 0 });
    expect(findings.ratios).toMatchObject([{ value: 2, goal, reached }]);
  });

  it('refuses a ratio of what is not measured', async () => {
    const ratios = [{ name: 'x', of: 'product', over: 'nothing' }];
    const wanted = { measures: [giving('product', [1])], ratios, rounds: 1, warmUps: 0 };
    await expect(takeTurns(wanted)).rejects.toThrow('no measure nothing');
  });
});
