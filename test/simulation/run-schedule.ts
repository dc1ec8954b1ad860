import { MemoryTables } from '../../libs/ledger/memory/memory-tables.js';
import { Dice } from '../fuzz/dice.js';
import { checkBook } from './check-book.js';
import { guardOverdrafts } from './overdraft-guard.js';
import { NO_FAULT, PlantedFault } from './planted-fault.js';
import { ClientList, SimClient } from './sim-client.js';
import { SimHouse } from './sim-house.js';
import { SimWorld } from './sim-process.js';
import { SimShop } from './sim-shop.js';
import { storeOn } from './sim-store.js';
import { VirtualTime } from './virtual-time.js';
import { CALM, drawWeather, Weather } from './weather.js';

const BEGINNING_MS = Date.UTC(2026, 3, 1, 8);
/** In which outages begin, ms: while clients are at work. */
const WEATHER_MS = 4000;
/** Within which every client must have been answered, in whatever weather, ms. */
const PATIENCE_MS = 90_000;
/** Within which everything must be folded, logged and carried once the weather is calm, ms: `/health/ready` says it after a minute. */
const STUCK_AFTER_MS = 60_000;

/** What a schedule came to. */
export interface ScheduleOutcome {
  readonly seed: number;
  /** What must not be, in words; empty where all is well. */
  readonly faults: readonly string[];
  /** Of every step and of the book that came out: the same for the same seed. */
  readonly trace: string;
  readonly steps: number;
  readonly kills: number;
  readonly acknowledged: number;
  readonly granted: number;
  readonly refused: number;
  readonly virtualMs: number;
}

export interface ScheduleOptions {
  readonly planted?: PlantedFault;
  /** Told of every step. */
  readonly listener?: (ms: number, what: string) => void;
}

/** Plays one schedule: everything in it that is left to chance comes from its seed. */
export async function runSchedule(
  shop: SimShop,
  seed: number,
  { planted = NO_FAULT, listener }: ScheduleOptions = {},
): Promise<ScheduleOutcome> {
  const dice = new Dice(seed);
  const time = new VirtualTime(BEGINNING_MS);
  time.trace.listener = listener;
  const world: SimWorld = { time, dice, weather: drawWeather(dice, WEATHER_MS) };
  const begin = dice.one(shop.beginnings);
  const tables = begin();
  const faults: string[] = [];
  guardOverdrafts(tables, (what) => faults.push(what));
  const store = storeOn(tables, () => new Date(time.ms).toISOString());
  const house = new SimHouse(world, store, shop.setup, planted);
  bringWeather(world, house);
  house.start({ apis: 1 + dice.below(2), workers: 1 + dice.below(2) });
  const list = new ClientList();
  const clients = Array.from({ length: 1 + dice.below(3) }, (_, n) => {
    const client = new SimClient(`client-${String(n)}`, world, house.apis, list);
    void client.work(1 + dice.below(4));
    return client;
  });
  const areDone = (): boolean => clients.every(({ isDone }) => isDone);
  await time.goOn(areDone, BEGINNING_MS + PATIENCE_MS);
  world.weather = CALM;
  const isSettled = (): boolean => areDone() && isIdle(tables, house);
  const settled = await time.goOn(isSettled, time.ms + STUCK_AFTER_MS);
  if (!settled) faults.push(`stuck: ${whatIsLeft(tables, areDone())}`);
  else faults.push(...(await checkBook(tables, { tables: begin(), setup: shop.setup }, list)));
  faults.push(...house.errors.map((error) => `logged as an error: ${error}`));
  for (const { entries } of tables.ledgers.values()) time.trace.add(entries.length, entries.at(-1)?.hash ?? '');
  return {
    ...{ seed, faults, trace: time.trace.digest(), steps: time.steps, kills: house.kills },
    acknowledged: list.acknowledged.size,
    ...{ granted: tables.clearances.size, refused: list.refused, virtualMs: time.ms - BEGINNING_MS },
  };
}

function bringWeather({ time, weather }: { time: VirtualTime; weather: Weather }, { link, carrier }: SimHouse): void {
  for (const { fromMs, toMs } of weather.storeAway) {
    time.after(fromMs, 'the store goes away', () => {
      link.goAway();
    });
    time.after(toMs, 'the store is back', () => {
      link.isAway = false;
    });
  }
  for (const { fromMs, toMs } of weather.carrierAway) {
    time.after(fromMs, 'the carrier goes away', () => {
      carrier.goAway();
    });
    time.after(toMs, 'the carrier is back', () => {
      carrier.comeBack();
    });
  }
}

/** Whether nothing waits to be folded, put into the log, or carried. */
function isIdle({ inbox, log }: MemoryTables, { carrier }: SimHouse): boolean {
  if (log.inbox.length > 0 || carrier.count() > 0) return false;
  for (const { state } of inbox.values()) if (state === 'pending') return false;
  return true;
}

function whatIsLeft({ inbox, log }: MemoryTables, areDone: boolean): string {
  const pending = [...inbox.values()].filter(({ state }) => state === 'pending').length;
  const clients = areDone ? 'all clients are done' : 'a client gets no answer';
  return `${String(pending)} events pending, ${String(log.inbox.length)} deliveries not in the log; ${clients}`;
}
