import { setTimeout as delay } from 'node:timers/promises';
import { SHOP } from '../../support/small-shop.js';
import { BareLocks } from '../baselines/bare-locks.js';
import { HeatbookProcesses } from '../services/heatbook-processes.js';
import { atPace } from './at-pace.js';
import { GateStations } from './gate-stations.js';
import { BATCH, EVENTS_A_BOARD, inBatches, reworkLine } from './rework-line.js';
import { sendLanes } from './send-lanes.js';
import { sendPaced } from './send-paced.js';
import { toldOf, WaitingBoard, waitingBoards } from './waiting-boards.js';

export interface GateLoad {
  /** Timed seconds. */
  readonly seconds: number;
  /** Clearances a second, and locks of a row beside them. */
  readonly askedPerSecond: number;
  readonly eventsPerSecond: number;
}

export interface GateFigures {
  /** Of each clearance, and of each lock of a row, ms. */
  readonly clearances: readonly number[];
  readonly rowLocks: readonly number[];
  /** Events a second that were really posted. */
  readonly posted: number;
  /** Events that waited to be folded in the timed seconds: at most, and when these ended. */
  readonly mostPending: number;
  readonly lastPending: number;
}

interface Asked {
  readonly heatbook: HeatbookProcesses;
  readonly stations: GateStations;
  readonly locks: BareLocks;
}

const POST_LANES = 4;
/** The load goes on for so long before anything is timed, and a little longer than what is timed. */
const BEFORE_S = 2;
const AFTER_S = 1;
const LOOKS_PER_SECOND = 2;

/**
 * A stretch of load with two kinds of questions in the same seconds: clearances, each for another board that waits, and bare
 * locks of the rows of such boards.
 * @param series begins serial numbers, so that no two stretches meet
 * @throws Error where an event is not accepted, or a clearance is refused
 */
export async function gateStretch(asked: Asked, series: string, load: GateLoad): Promise<GateFigures> {
  const { heatbook } = asked;
  const { seconds, askedPerSecond, eventsPerSecond } = load;
  const waiting = waitingBoards(`${series}-WAITING`, seconds * askedPerSecond);
  await sendLanes(heatbook.target('batch'), [inBatches(toldOf(waiting), BATCH)]);
  await heatbook.applied();
  const events = (BEFORE_S + seconds + AFTER_S) * eventsPerSecond;
  const lanes = reworkLine(`${series}-LOAD`, events / EVENTS_A_BOARD, POST_LANES);
  const batches = lanes.map((lane) => inBatches(lane, BATCH));
  const [loadMs, questions] = await Promise.all([
    sendPaced(heatbook.target('batch'), batches, eventsPerSecond / BATCH),
    delay(BEFORE_S * 1000).then(() => askBoth(asked, waiting, load)),
  ]);
  await heatbook.applied();
  return { ...questions, posted: (events / loadMs) * 1000 };
}

async function askBoth(
  { heatbook, stations, locks }: Asked,
  waiting: readonly WaitingBoard[],
  { seconds, askedPerSecond }: GateLoad,
): Promise<Omit<GateFigures, 'posted'>> {
  const clearances: number[] = [];
  const rowLocks: number[] = [];
  const pending: number[] = [];
  const pace = { perSecond: askedPerSecond, count: waiting.length, lanes: stations.count };
  await Promise.all([
    atPace(pace, async (n, lane) => {
      const board = waiting[n];
      if (board !== undefined) clearances.push(await stations.ask(lane, board));
    }),
    atPace(pace, async (_, lane) => {
      const board = waiting[Math.floor(Math.random() * waiting.length)];
      rowLocks.push(await locks.lock(lane, `${SHOP.assembly}/${board?.serial ?? ''}`));
    }),
    atPace({ perSecond: LOOKS_PER_SECOND, count: seconds * LOOKS_PER_SECOND, lanes: 1 }, async () => {
      pending.push(await heatbook.pendingEvents());
    }),
  ]);
  return { clearances, rowLocks, mostPending: Math.max(...pending), lastPending: pending.at(-1) ?? NaN };
}
