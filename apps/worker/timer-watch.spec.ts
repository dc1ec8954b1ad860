import { forEachTimer, TimerName } from '../../libs/ledger/ports/job-queue.js';
import { raiseNotices } from '../../libs/ledger/notices/raise-notices.js';
import { memoryHarness } from '../../test/support/book-harness.js';
import { silentLog } from '../../test/support/silent-log.js';
import { TimerNotes, TimerWatch } from './timer-watch.js';
import { Timer, Timers } from './timers.js';

const IDLE: Timer = { everyMs: 1e9, run: () => Promise.resolve() };

/** A watch over a clock that the test drives, with one timer that is of interest. */
function watchOver(name: TimerName, timer: Timer, warned: string[] = [], notes?: TimerNotes) {
  const time = { nowMs: 0 };
  const timers: Timers = { ...forEachTimer(() => IDLE), [name]: timer };
  const log = { ...silentLog, warn: (message: string) => void warned.push(message) };
  const watch = new TimerWatch(timers, () => time.nowMs, log, notes);
  const lookAt = async (nowMs: number): Promise<void> => {
    time.nowMs = nowMs;
    watch.look();
    await watch.idle();
  };
  return { watch, time, lookAt };
}

const UNHURRIED = { signal: new AbortController().signal, attempt: 1 };

describe('timers', () => {
  it('leave the work to the carrier while it tells of them, and do it by themselves while it does not', async () => {
    const runs: number[] = [];
    const { watch, time, lookAt } = watchOver('raise-notices', {
      everyMs: 1000,
      run: () => Promise.resolve(runs.push(time.nowMs)),
    });
    await lookAt(1999);
    expect(runs).toEqual([]);
    await watch.handlers()['raise-notices']({}, UNHURRIED);
    await lookAt(3998);
    expect(runs).toEqual([1999]);
    await lookAt(3999);
    expect(runs).toEqual([1999, 3999]);
    // As often as it would have come through the carrier.
    await lookAt(4998);
    await lookAt(4999);
    expect(runs).toEqual([1999, 3999, 4999]);
    await watch.handlers()['raise-notices']({}, UNHURRIED);
    await lookAt(6998);
    expect(runs).toEqual([1999, 3999, 4999, 4999]);
  });

  it('are not started again while they run, and are told to stop', async () => {
    let stopped: () => boolean = () => true;
    let end: () => void = () => undefined;
    let runs = 0;
    const run = (isStopped: () => boolean): Promise<void> => {
      runs += 1;
      stopped = isStopped;
      return new Promise((resolve) => (end = resolve));
    };
    const { watch, time } = watchOver('sweep-intake', { everyMs: 1000, run });
    time.nowMs = 2000;
    watch.look();
    time.nowMs = 9000;
    watch.look();
    expect([runs, stopped()]).toEqual([1, false]);
    const stopping = watch.stop();
    expect(stopped()).toBe(true);
    end();
    await stopping;
  });

  it('say when they fail, and try again', async () => {
    const warned: string[] = [];
    let runs = 0;
    const run = (): Promise<void> => {
      runs += 1;
      return Promise.reject(new Error('the database is away'));
    };
    const { lookAt } = watchOver('raise-notices', { everyMs: 1000, run }, warned);
    await lookAt(2000);
    await lookAt(3000);
    expect([runs, warned]).toEqual([2, ["timer 'raise-notices' failed", "timer 'raise-notices' failed"]]);
  });

  it('are noted when they have done their work or failed, however they came to run', async () => {
    const noted: string[] = [];
    const notes = {
      done: (name: string) => noted.push(`${name} done`),
      failed: (name: string) => noted.push(`${name} failed`),
    };
    let fails = false;
    const run = (): Promise<void> => (fails ? Promise.reject(new Error('away')) : Promise.resolve());
    const { watch, lookAt } = watchOver('sweep-intake', { everyMs: 1000, run }, [], notes);
    const byCarrier = watch.handlers()['sweep-intake'];
    await byCarrier({}, UNHURRIED);
    await byCarrier({}, { ...UNHURRIED, signal: AbortSignal.abort() });
    await lookAt(2000);
    fails = true;
    await expect(byCarrier({}, UNHURRIED)).rejects.toThrow('away');
    await lookAt(4000);
    const [done, failed] = ['sweep-intake done', 'sweep-intake failed'];
    expect(noted).toEqual([done, done, failed, failed]);
  });

  it('give notice though the carrier is away', async () => {
    const book = await memoryHarness();
    const { deps, reads, notices, setupStore } = book;
    const station = { kind: 'hot-gas', calibrationDueAt: '2026-03-09T00:00:00Z' };
    await setupStore.revise('station', 'HOT', station, 'quinn');
    const clock = { now: () => '2026-03-02T00:00:00.000Z' };
    const run = (): Promise<number> => raiseNotices({ ...deps, reads, notices, clock });
    const { lookAt } = watchOver('raise-notices', { everyMs: 30_000, run });
    await lookAt(59_999);
    expect(await notices.countOpen()).toEqual({});
    await lookAt(60_000);
    await lookAt(90_000);
    expect(await notices.countOpen()).toEqual({ calibration: 1 });
    await book.close();
  });
});
