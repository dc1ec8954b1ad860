import { afterFailure, Attempts, waitMs } from './back-off.js';

const START_MS = Date.parse('2030-01-07T08:00:00.000Z');
const at = (ms: number): string => new Date(START_MS + ms).toISOString();

function failed(times: number): Attempts {
  let attempts: Attempts | undefined;
  for (let time = 0; time < times; time += 1) attempts = afterFailure(attempts, at(0));
  if (attempts === undefined) throw new Error('nothing failed');
  return attempts;
}

describe('wrong passwords in a row', () => {
  it('cost nothing up to the fourth, then a second that doubles up to a quarter of an hour', () => {
    const waits = Array.from({ length: 17 }, (_, n) => waitMs(failed(n + 1), at(0)) / 1000);
    expect(waits).toEqual([0, 0, 0, 0, 1, 2, 4, 8, 16, 32, 64, 128, 256, 512, 900, 900, 900]);
    expect(waitMs(failed(5_000), at(0))).toBe(900_000);
    expect(waitMs(undefined, at(0))).toBe(0);
  });

  it('cost what is left of the wait, and nothing once it is over', () => {
    expect(waitMs(failed(7), at(1_500))).toBe(2_500);
    expect(waitMs(failed(7), at(3_999))).toBe(1);
    expect(waitMs(failed(7), at(4_000))).toBe(0);
  });

  it('count on after a wait, and from the beginning after an hour without one', () => {
    expect(afterFailure(failed(7), at(4_000))).toEqual({ failures: 8, lastAt: at(4_000) });
    expect(afterFailure(failed(7), at(3_600_000))).toEqual({ failures: 1, lastAt: at(3_600_000) });
    expect(waitMs(failed(20), at(3_600_000))).toBe(0);
  });

  it('never cost more than the whole wait, whatever the clock of another process says', () => {
    expect(waitMs(failed(5), at(-60_000))).toBe(1_000);
  });
});
