import { BareLocks } from './baselines/bare-locks.js';
import { BenchCase, BenchSize, Note } from './bench-case.js';
import { GateStations } from './load/gate-stations.js';
import { GateFigures, GateLoad, gateStretch } from './load/gate-stretch.js';
import { percentile } from './load/percentile.js';
import { openServers } from './services/bench-servers.js';
import { HeatbookProcesses } from './services/heatbook-processes.js';

const STATIONS = 4;
const WARM_UPS = 1;

/** How long a station waits for a clearance while events are folded, beside locking one row of the book then. */
export async function gateCase({ quick }: BenchSize): Promise<BenchCase> {
  const load: GateLoad = { seconds: quick ? 4 : 20, askedPerSecond: 40, eventsPerSecond: 1_000 };
  const servers = await openServers();
  const heatbook = await HeatbookProcesses.open(servers.redisUrl, { apis: 1, workers: 1 });
  const stations = await GateStations.open(heatbook, STATIONS);
  const locks = await BareLocks.open(heatbook.databaseUrl, STATIONS);
  const taken: GateFigures[] = [];
  return {
    title: 'gate',
    what: `in ${String(load.seconds)} s, in which ${String(load.eventsPerSecond)} events/s come and are folded, ${String(load.askedPerSecond)} clearances/s of ${String(STATIONS)} stations, and as many bare locks of a row`,
    measures: [
      {
        name: 'clearance-p99',
        unit: 'ms',
        take: async () => {
          const figures = await gateStretch({ heatbook, stations, locks }, `G${String(taken.length)}`, load);
          taken.push(figures);
          return percentile(figures.clearances, 0.99);
        },
      },
      // In the same seconds.
      { name: 'row-lock-p99', unit: 'ms', take: () => Promise.resolve(percentile(taken.at(-1)?.rowLocks ?? [], 0.99)) },
    ],
    ratios: [{ name: 'clearance-p99/row-lock-p99', of: 'clearance-p99', over: 'row-lock-p99', goal: { atMost: 4 } }],
    rounds: quick ? 1 : 3,
    warmUps: WARM_UPS,
    notes: () => notesOf(taken.slice(WARM_UPS)),
    close: async () => {
      await stations.close();
      await locks.close();
      await heatbook.close();
      await servers.close();
    },
  };
}

function notesOf(rounds: readonly GateFigures[]): Note[] {
  return [
    ...quantiles(
      'clearance',
      rounds.flatMap(({ clearances }) => clearances),
    ),
    ...quantiles(
      'row lock',
      rounds.flatMap(({ rowLocks }) => rowLocks),
    ),
    {
      name: 'posted beside, in the slowest round',
      unit: 'events/s',
      value: Math.min(...rounds.map(({ posted }) => posted)),
    },
    { name: 'pending at once, at most', unit: 'events', value: Math.max(...rounds.map((one) => one.mostPending)) },
    // Far above what comes in a second, it says that the folds did not keep up and the ratio is of another state.
    {
      name: 'pending when the timed seconds ended, at most',
      unit: 'events',
      value: Math.max(...rounds.map((one) => one.lastPending)),
    },
  ];
}

function quantiles(name: string, tookMs: readonly number[]): Note[] {
  return [50, 95, 99].map((share) => ({
    name: `${name}: p${String(share)} of all rounds together, ${String(tookMs.length)} of them`,
    unit: 'ms',
    value: percentile(tookMs, share / 100),
  }));
}
