import { until } from '../../../libs/postgres/embedded/processes.js';
import { HeatbookProcesses } from '../services/heatbook-processes.js';

const PATIENCE_MS = 600_000;

/** Waits until every entry has its place in the log, which a timer of the worker sees to. @throws Error after ten minutes */
export async function logKept({ looking }: HeatbookProcesses): Promise<void> {
  const isEmpty = async (): Promise<boolean> => {
    const { rows } = await looking.query<{ any: boolean }>('SELECT EXISTS (SELECT FROM log_inbox) AS any');
    return rows[0]?.any === false;
  };
  if (!(await until(isEmpty, PATIENCE_MS))) throw new Error('entries still wait for their place in the log');
}
