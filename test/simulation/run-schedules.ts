import { PlantedFault } from './planted-fault.js';
import { runSchedule, ScheduleOutcome } from './run-schedule.js';
import { SimShop } from './sim-shop.js';

/** Schedules that go on at once, so that waiting for the event loop is shared; each is a world of its own. */
const AT_ONCE = 16;

export interface RunOptions {
  readonly schedules: number;
  /** Of the first; the others are counted up from it. */
  readonly seed: number;
  readonly planted?: PlantedFault;
  /** Told of each as it ends, in no particular order. */
  readonly heard?: (outcome: ScheduleOutcome) => void;
  /** Ends the run at the first that fails. */
  readonly isUntilFault?: boolean;
}

/** What a run came to. */
export interface RunOutcome {
  readonly schedules: number;
  readonly steps: number;
  readonly kills: number;
  readonly acknowledged: number;
  readonly granted: number;
  readonly refused: number;
  readonly virtualSeconds: number;
  readonly seconds: number;
  /** Those in which something was wrong, by seed. */
  readonly failed: readonly ScheduleOutcome[];
}

/** Plays schedules of seeds that follow each other. */
export async function runSchedules(shop: SimShop, options: RunOptions): Promise<RunOutcome> {
  const { schedules, seed, planted, heard, isUntilFault = false } = options;
  const sum = { schedules: 0, steps: 0, kills: 0, acknowledged: 0, granted: 0, refused: 0, virtualSeconds: 0 };
  const failed: ScheduleOutcome[] = [];
  const beganMs = performance.now();
  let next = 0;
  const lane = async (): Promise<void> => {
    while (next < schedules && !(isUntilFault && failed.length > 0)) {
      const outcome = await runSchedule(shop, seed + next++, planted === undefined ? {} : { planted });
      sum.schedules += 1;
      sum.virtualSeconds += outcome.virtualMs / 1000;
      for (const name of ['steps', 'kills', 'acknowledged', 'granted', 'refused'] as const) sum[name] += outcome[name];
      if (outcome.faults.length > 0) failed.push(outcome);
      heard?.(outcome);
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, lane));
  failed.sort((a, b) => a.seed - b.seed);
  return { ...sum, seconds: (performance.now() - beganMs) / 1000, failed };
}
