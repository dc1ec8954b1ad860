import { BenchCase, BenchSize, Measure } from './bench-case.js';
import { checkFolded } from './load/check-folded.js';
import { GateStations } from './load/gate-stations.js';
import { HeldFolds } from './load/held-folds.js';
import { percentile } from './load/percentile.js';
import { postBoards } from './load/post-boards.js';
import { BATCH, EVENTS_A_BOARD, inBatches, requestsOf } from './load/rework-line.js';
import { sendLanes } from './load/send-lanes.js';
import { toldOf, WaitingBoard, waitingBoards } from './load/waiting-boards.js';
import { openServers } from './services/bench-servers.js';
import { HeatbookProcesses } from './services/heatbook-processes.js';

/** What is still "at once" for somebody who stands at a station. */
const AT_ONCE_MS = 1_000;

/** A great many events while no worker runs: what the gate answers then, and how fast the backlog is folded after. */
export async function backlogCase({ quick }: BenchSize): Promise<BenchCase> {
  const deep = quick ? 2_000 : 100_000;
  const ordinary = quick ? 640 : 6_400;
  const asked = quick ? 5 : 20;
  const servers = await openServers();
  const heatbook = await HeatbookProcesses.open(servers.redisUrl, { apis: 1, workers: 1 });
  const stations = await GateStations.open(heatbook, 1);
  const target = heatbook.target('batch');
  const tell = (boards: readonly WaitingBoard[]): Promise<number> =>
    sendLanes(target, [inBatches(toldOf(boards), BATCH)]);
  /** One after the other. @returns how long each took, ms */
  const ask = async (boards: readonly WaitingBoard[]): Promise<number[]> => {
    const tookMs: number[] = [];
    for (const board of boards) tookMs.push(await stations.ask(0, board));
    return tookMs;
  };
  const quiet = waitingBoards('QUIET', asked);
  const folded = waitingBoards('FOLDED', asked);
  const pending = waitingBoards('PENDING', asked);
  const warming = waitingBoards('WARMING', asked);
  await tell([...quiet, ...folded, ...warming]);
  await postBoards(target, 'WARM', ordinary / 4);
  await heatbook.applied();
  await ask(warming);

  const answers = new Map<string, readonly number[]>();
  const slowest = (name: string, boards: readonly WaitingBoard[]): Measure => ({
    ...{ name, unit: 'ms' },
    take: async () => {
      const tookMs = await ask(boards);
      answers.set(name, tookMs);
      return Math.max(...tookMs);
    },
  });
  let deepestBytes = NaN;
  let checked = 0;
  const measures: Measure[] = [
    {
      name: 'steady',
      unit: 'events/s',
      take: async () => {
        const sentMs = await sendLanes(target, requestsOf('batch', 'STEADY', ordinary));
        return ((ordinary * EVENTS_A_BOARD) / (sentMs + (await heatbook.applied()))) * 1000;
      },
    },
    {
      name: 'drain-of-little',
      unit: 'events/s',
      take: async () => {
        const held = await HeldFolds.hold(heatbook);
        await postBoards(target, 'LITTLE', ordinary);
        return held.drain();
      },
    },
    slowest('clearance, no backlog', quiet),
    {
      name: 'acknowledged',
      unit: 'events/s',
      take: async () => {
        await heatbook.stopWorkers();
        const before = await postBoards(target, 'DEEP1', deep / 2);
        // In the middle of it.
        await tell(pending);
        const after = await postBoards(target, 'DEEP2', deep / 2);
        deepestBytes = await sizeOfPending(heatbook);
        return 2 / (1 / before + 1 / after);
      },
    },
    slowest('clearance, its board folded', folded),
    slowest('clearance, its board in the backlog', pending),
    {
      name: 'drain',
      unit: 'events/s',
      take: async () => {
        const held = await HeldFolds.hold(heatbook);
        await heatbook.startWorkers(1);
        const drained = await held.drain();
        for (const series of ['DEEP1', 'DEEP2']) checked += (await checkFolded(heatbook, series, deep / 2)).entries;
        return drained;
      },
    },
  ];
  return {
    title: 'backlog',
    what: `${String(deep * EVENTS_A_BOARD)} events that come while no worker runs, ${String(asked)} clearances of each kind, and one worker after`,
    measures,
    ratios: [
      { name: 'drain/steady', of: 'drain', over: 'steady', goal: { atLeast: 1 } },
      { name: 'drain/drain-of-little', of: 'drain', over: 'drain-of-little' },
    ],
    // A backlog is made once.
    rounds: 1,
    warmUps: 0,
    notes: () => [
      ...[...answers].map(([name, tookMs]) => ({
        name: `${name}: p50 (the slowest is to be at most ${String(AT_ONCE_MS)})`,
        unit: 'ms',
        value: percentile(tookMs, 0.5),
      })),
      { name: 'intake_pending with its indexes, at its deepest', unit: 'MB', value: deepestBytes / 1e6 },
      { name: 'ledger entries of the backlog that were checked, and found right', unit: 'entries', value: checked },
    ],
    close: async () => {
      await stations.close();
      await heatbook.close();
      await servers.close();
    },
  };
}

async function sizeOfPending({ looking }: HeatbookProcesses): Promise<number> {
  const { rows } = await looking.query<{ bytes: string }>(`SELECT pg_total_relation_size('intake_pending') AS bytes`);
  return Number(rows[0]?.bytes);
}
