import { patientOnce } from './house-archives.js';

describe('waiting for the log, unit after unit', () => {
  let nowMs = 0;
  let caughtUp = true;
  const waits: number[] = [];
  const siteLog = patientOnce(
    {
      caughtUp: (_ledgers, patienceMs) => {
        waits.push(patienceMs);
        return Promise.resolve(caughtUp);
      },
      evidence: () => Promise.resolve(null),
    },
    () => nowMs,
  );
  const wait = () => siteLog.caughtUp([], 4_000);

  it('is patient as long as the log keeps up, and then not for a minute', async () => {
    for (let unit = 0; unit < 2; unit += 1) expect(await wait()).toBe(true);
    caughtUp = false;
    for (nowMs = 0; nowMs < 60_000; nowMs += 20_000) expect(await wait()).toBe(false);
    expect(waits).toEqual([4_000, 4_000, 4_000, 0, 0]);
    expect(await wait()).toBe(false);
    caughtUp = true;
    expect(await wait()).toBe(true);
    nowMs += 60_000;
    expect(await wait()).toBe(true);
    expect(waits.slice(5)).toEqual([4_000, 0, 4_000]);
  });
});
