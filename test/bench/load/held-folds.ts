import pg from 'pg';
import { HeatbookProcesses } from '../services/heatbook-processes.js';

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
   * @throws as `applied`
   */
  async drain(): Promise<number> {
    const events = await this.heatbook.pendingEvents();
    const began = performance.now();
    await this.holder.query('COMMIT');
    await this.holder.end();
    const letGoMs = performance.now() - began;
    return (events / (letGoMs + (await this.heatbook.applied()))) * 1000;
  }
}
