import { PlantedFault } from './planted-fault.js';
import { runSchedule, ScheduleOutcome } from './run-schedule.js';
import { SimShop } from './sim-shop.js';

export interface RunOptions {
  readonly schedules: number;
  /** Of the first; the others are counted up from it. */
  readonly seed: number;
  readonly planted?: PlantedFault;
  /** Ends the run at the first that fails. */
  readonly isUntilFault?: boolean;
  /** Told of each that fails, as it does. */
  readonly failed?: (outcome: ScheduleOutcome) => void;
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
  /** On the clock on the wall, and of the processor: a machine that has other work shows in the first alone. */
  readonly seconds: number;
  readonly cpuSeconds: number;
  /** Those in which something was wrong, in order. */
  readonly failed: readonly ScheduleOutcome[];
}

/** Plays schedules of seeds that follow each other, each a world of its own. */
export async function runSchedules(shop: SimShop, options: RunOptions): Promise<RunOutcome> {
  const { schedules, seed, planted, isUntilFault = false } = options;
  const sum = { schedules: 0, steps: 0, kills: 0, acknowledged: 0, granted: 0, refused: 0, virtualSeconds: 0 };
  const failed: ScheduleOutcome[] = [];
  const [beganMs, began] = [performance.now(), process.cpuUsage()];
  while (sum.schedules < schedules && !(isUntilFault && failed.length > 0)) {
    const outcome = await runSchedule(shop, seed + sum.schedules, planted === undefined ? {} : { planted });
    sum.schedules += 1;
    sum.virtualSeconds += outcome.virtualMs / 1000;
    for (const name of ['steps', 'kills', 'acknowledged', 'granted', 'refused'] as const) sum[name] += outcome[name];
    if (outcome.faults.length === 0) continue;
    failed.push(outcome);
    options.failed?.(outcome);
  }
  const { user, system } = process.cpuUsage(began);
  return { ...sum, seconds: (performance.now() - beganMs) / 1000, cpuSeconds: (user + system) / 1e6, failed };
}
