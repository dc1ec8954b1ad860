import { percentile } from './percentile.js';

const HUNDRED = Array.from({ length: 100 }, (_, n) => 100 - n);

describe('percentile', () => {
  it.each([
    [0.5, 50],
    [0.07, 7],
    [0.95, 95],
    [0.99, 99],
    [0.991, 100],
    [1, 100],
    [0.0001, 1],
  ])('%d of 1 to 100, whatever their order, is %d', (share, value) => {
    expect(percentile(HUNDRED, share)).toBe(value);
  });

  it('takes a value that was measured rather than one between two', () => {
    expect(percentile([1, 10], 0.5)).toBe(1);
    expect(percentile([1, 10], 0.51)).toBe(10);
  });

  it('compares as numbers and leaves the list as it was', () => {
    const values = [9, 10, 1];
    expect(percentile(values, 1)).toBe(10);
    expect(values).toEqual([9, 10, 1]);
  });

  it('is not a number where nothing was measured', () => {
    expect(percentile([], 0.99)).toBeNaN();
  });
});
