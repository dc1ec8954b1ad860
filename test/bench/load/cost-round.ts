import { Redis } from 'ioredis';
import { BookSize, bookSize } from '../services/book-size.js';
import { CpuMeter, CpuSpent } from '../services/cpu-meter.js';
import { HeatbookProcesses } from '../services/heatbook-processes.js';
import { RedisWork, redisWork } from '../services/redis-work.js';
import { logKept } from './log-kept.js';
import { EVENTS_A_BOARD, Form, requestsOf } from './rework-line.js';
import { sendLanes } from './send-lanes.js';
import { sendPaced } from './send-paced.js';
import { Transactions, transactionsOf } from './transactions-of.js';

/** What so many events came to. */
export interface CostRound {
  readonly events: number;
  /** From the first byte sent until the last event was in the ledger. */
  readonly tookMs: number;
  readonly cpu: CpuSpent;
  readonly transactions: Transactions;
  readonly sizes: readonly [before: BookSize, after: BookSize];
  readonly redis: readonly [before: RedisWork, after: RedisWork];
}

/** The product whose costs are taken, and what reads them. */
export interface Costed {
  readonly heatbook: HeatbookProcesses;
  readonly meter: CpuMeter;
  readonly redis: Redis;
}

export interface CostWork {
  /** Of no other round. */
  readonly series: string;
  readonly boards: number;
  readonly form: Form;
  /** Requests of all connections together; without it as many as are answered. */
  readonly perSecond?: number;
}

/** Posts work on boards and measures until all of it is in the ledgers and their entries in the log. */
export async function costRound(
  { heatbook, meter, redis }: Costed,
  { series, boards, form, perSecond }: CostWork,
): Promise<CostRound> {
  const lanes = requestsOf(form, series, boards);
  const [sizeBefore, redisBefore] = [await bookSize(heatbook.looking), await redisWork(redis)];
  const spent = await meter.start();
  const target = heatbook.target(form);
  const sentMs = await (perSecond === undefined ? sendLanes(target, lanes) : sendPaced(target, lanes, perSecond));
  const tookMs = sentMs + (await heatbook.applied());
  await logKept(heatbook);
  const cpu = await spent();
  const redisAfter = await redisWork(redis);
  return {
    ...{ events: boards * EVENTS_A_BOARD, tookMs, cpu },
    transactions: await transactionsOf(heatbook.looking, series),
    sizes: [sizeBefore, await bookSize(heatbook.looking)],
    redis: [redisBefore, redisAfter],
  };
}
