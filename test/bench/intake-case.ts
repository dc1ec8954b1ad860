import { BenchCase, BenchSize, Measure } from './bench-case.js';
import { bareCopy } from './baselines/bare-copy.js';
import { bareInsert } from './baselines/bare-insert.js';
import { bareQueue } from './baselines/bare-queue.js';
import { BATCH, CONNECTIONS, EVENTS_A_BOARD, Form, Lane, requestsOf, reworkLine } from './load/rework-line.js';
import { sendLanes } from './load/send-lanes.js';
import { openServers } from './services/bench-servers.js';
import { OrdinaryProcesses } from './services/ordinary-processes.js';
import { HeatbookProcesses } from './services/heatbook-processes.js';

/** What was posted one by one must be in the ledger this long after the last answer. */
const FOLDED_WITHIN_MS = 1_000;

/** Events over HTTP until they are in the ledger, with everything that the fold does, beside what bare parts can do. */
export async function intakeCase({ quick }: BenchSize): Promise<BenchCase> {
  const boards = quick ? 640 : 6_400;
  const events = boards * EVENTS_A_BOARD;
  const servers = await openServers();
  const heatbook = await HeatbookProcesses.open(servers.redisUrl, { apis: 1, workers: 1 });
  const ordinary = await OrdinaryProcesses.open(servers.redisUrl);
  // It takes many times as long for an event.
  const fewBoards = boards / 16;
  let ordinaryEvents = 0;
  let series = 0;
  let longestLagMs = 0;
  const requests = (form: Form, count = boards): Lane[] => {
    series += 1;
    return requestsOf(form, `S${String(series)}`, count);
  };
  const ordinaryRate = async (form: Form): Promise<number> => {
    const sentMs = await sendLanes(ordinary.target(form), requests(form, fewBoards));
    ordinaryEvents += fewBoards * EVENTS_A_BOARD;
    return (fewBoards * EVENTS_A_BOARD * 1000) / (sentMs + (await ordinary.applied(ordinaryEvents)));
  };
  const bare = reworkLine('BARE', boards, 1).flat();
  const perSecond = (ms: number): number => (events / ms) * 1000;
  let singleAppliedMs = NaN;
  const measures: Measure[] = [
    { name: 'copy', unit: 'rows/s', take: () => bareCopy(heatbook.databaseUrl, bare) },
    {
      name: 'batch-applied',
      unit: 'events/s',
      take: async () => {
        const sentMs = await sendLanes(heatbook.target('batch'), requests('batch'));
        return perSecond(sentMs + (await heatbook.applied()));
      },
    },
    { name: 'bare-insert', unit: 'rows/s', take: () => bareInsert(heatbook.databaseUrl, bare) },
    {
      name: 'single-ack',
      unit: 'events/s',
      take: async () => {
        const ackedMs = await sendLanes(heatbook.target('single'), requests('single'));
        const lagMs = await heatbook.applied();
        longestLagMs = Math.max(longestLagMs, lagMs);
        singleAppliedMs = ackedMs + lagMs;
        return perSecond(ackedMs);
      },
    },
    // Of the same events as the acknowledgements just before.
    { name: 'single-applied', unit: 'events/s', take: () => Promise.resolve(perSecond(singleAppliedMs)) },
    { name: 'ordinary-single', unit: 'events/s', take: () => ordinaryRate('single') },
    { name: 'ordinary-batch', unit: 'events/s', take: () => ordinaryRate('batch') },
    { name: 'bare-queue', unit: 'jobs/s', take: () => bareQueue(servers.redisUrl, boards) },
  ];
  return {
    title: 'intake',
    what: `${String(events)} events of ${String(boards)} boards a round: in batches of ${String(BATCH)} over ${String(CONNECTIONS.batch)} connections, and one by one over ${String(CONNECTIONS.single)}`,
    measures,
    ratios: [
      { name: 'batch-applied/copy', of: 'batch-applied', over: 'copy', goal: { atLeast: 0.2 } },
      { name: 'single-ack/bare-insert', of: 'single-ack', over: 'bare-insert', goal: { atLeast: 0.7 } },
      { name: 'single-applied/ordinary', of: 'single-applied', over: 'ordinary-single', goal: { atLeast: 8 } },
      { name: 'batch-applied/ordinary', of: 'batch-applied', over: 'ordinary-batch', goal: { atLeast: 15 } },
    ],
    rounds: quick ? 1 : 3,
    warmUps: 1,
    notes: () => [
      {
        name: `single posts: from the last answer to the ledger, at most (wanted: ${String(FOLDED_WITHIN_MS)})`,
        unit: 'ms',
        value: longestLagMs,
      },
      { name: 'bytes of an event', unit: 'bytes', value: bare.join('').length / bare.length },
    ],
    close: async () => {
      await ordinary.close();
      await heatbook.close();
      await servers.close();
    },
  };
}
