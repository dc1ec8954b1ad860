import { BenchCase, BenchSize, Measure } from './bench-case.js';
import { checkFolded } from './load/check-folded.js';
import { HeldFolds } from './load/held-folds.js';
import { postBoards } from './load/post-boards.js';
import { EVENTS_A_BOARD } from './load/rework-line.js';
import { openServers } from './services/bench-servers.js';
import { HeatbookProcesses } from './services/heatbook-processes.js';

const APIS = 2;

/** The same work with one, two and four workers, and posted to one api and to two; what was folded is checked each time. */
export async function workersCase({ quick }: BenchSize): Promise<BenchCase> {
  const boards = quick ? 500 : 5_000;
  const warming = boards / 5;
  const servers = await openServers();
  const heatbook = await HeatbookProcesses.open(servers.redisUrl, { apis: APIS, workers: 0 });
  let series = 0;
  let working = 0;
  let checked = 0;
  /** Rejudged entries by the number of workers. */
  const retold = new Map<number, number>();
  let ackedPerSecond = NaN;
  const post = async (count: number, apis: number): Promise<{ name: string; perSecond: number }> => {
    series += 1;
    const name = `W${String(series)}`;
    const target = { ...heatbook.target('batch'), urls: heatbook.urls.slice(0, apis) };
    return { name, perSecond: await postBoards(target, name, count) };
  };
  /** Posts while the workers are kept waiting, and lets all of them go at once. */
  const drain = async (workers: number, apis: number): Promise<number> => {
    if (workers < working) {
      await heatbook.stopWorkers();
      working = 0;
    }
    await heatbook.startWorkers(workers - working);
    working = workers;
    // New processes are slow at first.
    await post(warming, APIS);
    await heatbook.applied();
    const held = await HeldFolds.hold(heatbook);
    const { name, perSecond } = await post(boards, apis);
    ackedPerSecond = perSecond;
    const drained = await held.drain();
    const { entries, rejudged } = await checkFolded(heatbook, name, boards);
    checked += entries;
    retold.set(workers, (retold.get(workers) ?? 0) + rejudged);
    return drained;
  };
  const drained = (name: string, workers: number, apis: number): Measure => ({
    ...{ name, unit: 'events/s' },
    take: () => drain(workers, apis),
  });
  // Of the posts just before.
  const acked = (name: string): Measure => ({
    ...{ name, unit: 'events/s' },
    take: () => Promise.resolve(ackedPerSecond),
  });
  return {
    title: 'workers',
    what: `${String(boards * EVENTS_A_BOARD)} events that wait are folded by one, two and four workers, after they were posted to one api or two`,
    measures: [
      drained('drain-1-worker', 1, 1),
      acked('ack-1-api'),
      drained('drain-2-workers', 2, APIS),
      acked('ack-2-apis'),
      drained('drain-4-workers', 4, APIS),
    ],
    ratios: [
      { name: 'drain: 2 workers/1', of: 'drain-2-workers', over: 'drain-1-worker' },
      { name: 'drain: 4 workers/1', of: 'drain-4-workers', over: 'drain-1-worker' },
      { name: 'ack: 2 apis/1', of: 'ack-2-apis', over: 'ack-1-api' },
    ],
    rounds: quick ? 1 : 3,
    warmUps: quick ? 0 : 1,
    notes: () => [
      { name: 'ledger entries that were checked, and found right', unit: 'entries', value: checked },
      ...[...retold].map(([workers, entries]) => ({
        name: `${String(workers)} at work: entries that tell anew, as a device was met before its own events`,
        unit: 'entries',
        value: entries,
      })),
    ],
    close: async () => {
      await heatbook.close();
      await servers.close();
    },
  };
}
