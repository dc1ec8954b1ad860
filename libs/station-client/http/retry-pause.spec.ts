import { retryPauseMs } from './retry-pause.js';

const PACE = { baseMs: 100, capMs: 1_000 };

it('doubles with each failure up to its cap, between half of that and all', () => {
  const failures = [1, 2, 3, 4, 5, 6, 1_000];
  expect(failures.map((n) => retryPauseMs(n, PACE, undefined, 1))).toEqual([100, 200, 400, 800, 1_000, 1_000, 1_000]);
  expect(failures.map((n) => retryPauseMs(n, PACE, undefined, 0))).toEqual([50, 100, 200, 400, 500, 500, 500]);
});

it('never comes back sooner than it was asked to, nor all at that instant', () => {
  expect(retryPauseMs(1, PACE, 5_000, 0)).toBe(5_000);
  expect(retryPauseMs(1, PACE, 5_000, 1)).toBe(5_050);
  expect(retryPauseMs(5, PACE, 10, 0)).toBe(500);
});
