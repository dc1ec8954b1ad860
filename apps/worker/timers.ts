import { TimerName } from '../../libs/ledger/ports/job-queue.js';

/** Work that is looked for again and again. */
export interface Timer {
  readonly everyMs: number;
  /**
   * Does what is due, as the database has it: run twice, or by two workers at once, it must do no more than run once, and
   * what was missed while no worker was up it makes up for. Comes to an end soon once `stopped` answers true.
   */
  readonly run: (stopped: () => boolean) => Promise<unknown>;
}

export type Timers = Readonly<Record<TimerName, Timer>>;
