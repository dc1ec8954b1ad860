import { setTimeout as delay } from 'node:timers/promises';
import pg from 'pg';
import { HeatbookProcesses } from '../services/heatbook-processes.js';

const LOOK_EVERY_MS = 20;
const PATIENCE_MS = 1_800_000;

/** Folds that are kept from beginning, so that workers can start and events gather without any being folded. */
export class HeldFolds {
  private constructor(
    private readonly heatbook: HeatbookProcesses,
    private readonly holder: pg.Client,
  ) {}

  /** Each fold locks its subjects, which posts have nothing to do with: that is what it waits for now. */
  static async hold(heatbook: HeatbookProcesses): Promise<HeldFolds> {
    const holder = new pg.Client({ connectionString: heatbook.databaseUrl });
    await holder.connect();
    await holder.query('BEGIN; LOCK TABLE subject IN EXCLUSIVE MODE');
    return new HeldFolds(heatbook, holder);
  }

  /**
   * Lets them go and waits until nothing is pending.
   * @returns events a second from then on
   * @throws Error where that takes more than half an hour, or an event was parked
   */
  async drain(): Promise<number> {
    const events = await pendingEvents(this.heatbook);
    const began = performance.now();
    await this.letGo();
    while (await this.isAnyPending()) {
      if (performance.now() - began > PATIENCE_MS) throw new Error('events are still pending');
      await delay(LOOK_EVERY_MS);
    }
    const tookMs = performance.now() - began;
    // Looks for parked ones.
    await this.heatbook.applied();
    return (events / tookMs) * 1000;
  }

  private async letGo(): Promise<void> {
    await this.holder.query('COMMIT');
    await this.holder.end();
  }

  /** From the newest end, since at the other one it would read through all that was folded already, again and again. */
  private async isAnyPending(): Promise<boolean> {
    const { rows } = await this.heatbook.looking.query(
      'SELECT number FROM intake_pending ORDER BY number DESC LIMIT 1',
    );
    return rows.length > 0;
  }
}

export async function pendingEvents({ looking }: HeatbookProcesses): Promise<number> {
  const { rows } = await looking.query<{ count: number }>('SELECT count(*)::integer AS count FROM intake_pending');
  return rows[0]?.count ?? NaN;
}
