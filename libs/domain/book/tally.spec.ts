import { Basis, basisOf, Count, emptyTally, Prior, usedOf } from './tally.js';

const counted = (...bases: Basis[]): Count[] =>
  bases.map((basis, n) => ({
    event: { source: '/stations/HOT', id: String(n) },
    at: '2031-03-03T06:00:00.000000000Z',
    basis,
    why: 'removal',
  }));
const tally = (prior: Prior, ...bases: Basis[]) => ({ ...emptyTally(prior), counted: counted(...bases) });

describe('a tally', () => {
  it('is what came before and what was counted since; what is possible is not in it', () => {
    const some = tally({ count: 2, basis: 'declared' }, 'measured', 'inferred');
    expect(usedOf({ ...some, possible: counted('unknown') })).toBe(4);
  });

  it.each<[Basis, Prior, Basis[]]>([
    ['measured', { count: 0, basis: 'assumed' }, ['measured']],
    ['inferred', { count: 0, basis: 'declared' }, ['measured', 'inferred', 'measured']],
    ['declared', { count: 1, basis: 'declared' }, ['measured']],
    ['assumed', { count: 1, basis: 'assumed' }, ['measured', 'inferred']],
    ['unknown', { count: 0, basis: 'unknown' }, ['measured']],
    ['declared', { count: 0, basis: 'declared' }, []],
  ])('stands on its weakest ground: %s', (basis, prior, bases) => {
    expect(basisOf(tally(prior, ...bases))).toBe(basis);
  });
});
