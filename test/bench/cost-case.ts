import { Redis } from 'ioredis';
import { BenchCase, BenchSize, Measure, Note } from './bench-case.js';
import { CostRound, costRound, CostWork } from './load/cost-round.js';
import { BATCH, EVENTS_A_BOARD, Form } from './load/rework-line.js';
import { grownTables } from './services/book-size.js';
import { openServers } from './services/bench-servers.js';
import { CPU_PARTS, CpuMeter } from './services/cpu-meter.js';
import { HeatbookProcesses } from './services/heatbook-processes.js';

/**
 * Ways in which events come. `paced` are single ones so slowly that folds find few of them: what a transaction costs once shows
 * by them, since at full rate folds of single events are about as large as of batches.
 */
const WAYS = ['batch', 'single', 'paced'] as const;
type Way = (typeof WAYS)[number];
const FORM_OF: Readonly<Record<Way, Form>> = { batch: 'batch', single: 'single', paced: 'single' };
const PER_SECOND = 500;
const WARM_UPS = 1;

/** What an event costs: CPU time of each part, bytes in Postgres and Redis, and how many share a transaction. */
export async function costCase({ quick }: BenchSize): Promise<BenchCase> {
  const boards = quick ? 500 : 6_400;
  const pacedBoards = quick ? 100 : 1_500;
  const servers = await openServers();
  const heatbook = await HeatbookProcesses.open(servers.redisUrl, { apis: 1, workers: 1 });
  const redis = new Redis(servers.redisUrl);
  const costed = { heatbook, redis, meter: await CpuMeter.open(heatbook, servers.redisUrl) };
  const taken: Record<Way, CostRound[]> = { batch: [], single: [], paced: [] };
  const workOf = (way: Way): CostWork => ({
    series: `C${way}${String(taken[way].length)}`,
    form: FORM_OF[way],
    ...(way === 'paced' ? { boards: pacedBoards, perSecond: PER_SECOND } : { boards }),
  });
  const measuresOf = (way: Way): Measure[] =>
    CPU_PARTS.map((part, n) => ({
      name: `${way}-cpu-${part}`,
      unit: 'us',
      take: async () => {
        // All parts are of one round, which the first of them does.
        if (n === 0) taken[way].push(await costRound(costed, workOf(way)));
        const round = taken[way].at(-1);
        return round === undefined ? NaN : round.cpu[part] / round.events;
      },
    }));
  return {
    title: 'cost',
    what: `CPU time an event of ${String(boards * EVENTS_A_BOARD)} a round, in batches of ${String(BATCH)} and one by one, and of ${String(pacedBoards * EVENTS_A_BOARD)} one by one at ${String(PER_SECOND)} a second, until they are in the ledgers and the log`,
    measures: WAYS.flatMap(measuresOf),
    ratios: [],
    rounds: quick ? 1 : 3,
    warmUps: WARM_UPS,
    notes: () => WAYS.flatMap((way) => notesOf(way, taken[way].slice(WARM_UPS))),
    close: async () => {
      redis.disconnect();
      await heatbook.close();
      await servers.close();
    },
  };
}

/** Of all rounds together. */
function notesOf(way: Way, rounds: readonly CostRound[]): Note[] {
  const sum = (of: (round: CostRound) => number): number => rounds.reduce((all, round) => all + of(round), 0);
  const events = sum((round) => round.events);
  const note = (name: string, unit: string, value: number): Note => ({ name: `${way}: ${name}`, unit, value });
  const tables = new Map<string, number>();
  for (const { sizes } of rounds) {
    for (const [table, bytes] of grownTables(...sizes)) tables.set(table, (tables.get(table) ?? 0) + bytes);
  }
  return [
    note('applied', 'events/s', (events / sum(({ tookMs }) => tookMs)) * 1000),
    note('events an insert', 'events', events / sum(({ transactions }) => transactions.inserts)),
    note('events a fold', 'events', events / sum(({ transactions }) => transactions.folds)),
    note('of all tables, an event', 'bytes', [...tables.values()].reduce((all, bytes) => all + bytes, 0) / events),
    ...[...tables].map(([table, bytes]) => note(`of ${table}, an event`, 'bytes', bytes / events)),
    // A page goes into the log as a whole when it is first changed after a checkpoint, and a round begins with one.
    note(
      'of the log of Postgres, an event',
      'bytes',
      sum(({ sizes: [before, after] }) => after.log - before.log) / events,
    ),
    note('of Redis, kept, an event', 'bytes', sum(({ redis: [before, after] }) => after.bytes - before.bytes) / events),
    note(
      'asked of Redis, an event',
      'commands',
      sum(({ redis: [before, after] }) => after.commands - before.commands) / events,
    ),
  ];
}
