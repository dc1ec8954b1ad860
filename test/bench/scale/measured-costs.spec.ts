import { costUs, linearThrough, measuredCosts } from './measured-costs.js';

describe('costs from the bench', () => {
  it('lie on the line through both forms', () => {
    const cost = linearThrough({ events: 100, usAnEvent: 21 }, { events: 1, usAnEvent: 120 });
    expect(cost.onceUs).toBeCloseTo(100, 10);
    expect(cost.eachUs).toBeCloseTo(20, 10);
    expect(costUs(cost, 100)).toBeCloseTo(2_100, 10);
  });

  it('have no part below nothing', () => {
    expect(linearThrough({ events: 100, usAnEvent: 21 }, { events: 1, usAnEvent: 20 })).toEqual({
      onceUs: 0,
      eachUs: 21,
    });
    expect(linearThrough({ events: 10, usAnEvent: 1 }, { events: 1, usAnEvent: 100 })).toEqual({
      onceUs: 10,
      eachUs: 0,
    });
  });

  it('are not to be had from work on about as many events', () => {
    expect(() => linearThrough({ events: 438, usAnEvent: 190 }, { events: 360, usAnEvent: 306 })).toThrow(
      'work on 438 and on 360 events is too alike',
    );
  });

  it('take what Postgres does by itself to the folds, and say which figure is missing', () => {
    const parts = ['api', 'worker', 'postgres-for-api', 'postgres-for-worker', 'postgres-itself', 'redis'];
    const figures = new Map<string, number>();
    for (const [way, times, size] of [
      ['batch', 1, 100],
      ['single', 2, 90],
      ['paced', 2, 10],
    ] as const) {
      for (const [n, part] of parts.entries()) figures.set(`${way}-cpu-${part}`, times * 10 ** n);
      figures.set(`${way}: events an insert`, size);
      figures.set(`${way}: events a fold`, size);
    }
    const costs = measuredCosts(figures);
    for (const [cost, size, us] of [
      [costs.request, 100, 1],
      [costs.request, 1, 2],
      [costs.insert, 100, 100],
      [costs.wake, 10, 200_000],
      [costs.fold, 10, 20],
      [costs.write, 100, 11_000],
    ] as const) {
      expect(costUs(cost, size) / size).toBeCloseTo(us, 6);
    }
    figures.delete('paced: events a fold');
    expect(() => measuredCosts(figures)).toThrow("no figure 'paced: events a fold'");
  });
});
