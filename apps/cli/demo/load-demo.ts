import { SETUP_KINDS } from '../../../libs/domain/setup/setup-data.js';
import { foldShard } from '../../../libs/ledger/fold/fold-shard.js';
import { microTime } from '../../../libs/ledger/containment/suspect-cause.js';
import { acceptEvents } from '../../../libs/ledger/intake/accept-events.js';
import { readBatch } from '../../../libs/ledger/intake/read-events.js';
import { HOUSE } from '../../../libs/ledger/setup/house-setup.js';
import { BookDeps } from '../../../libs/ledger/fold/book-deps.js';
import { EventInbox } from '../../../libs/ledger/ports/book-store.js';
import { ReadStore } from '../../../libs/ledger/ports/read-store.js';
import { SetupStore } from '../../../libs/ledger/ports/setup-store.js';
import { StationStore } from '../../../libs/ledger/ports/station-store.js';
import { TraceStore } from '../../../libs/ledger/ports/trace-store.js';
import { keepTrace } from '../../../libs/ledger/traces/keep-trace.js';
import { grantClearance } from '../../../libs/ledger/clearances/grant-clearance.js';
import { DemoRequest } from './demo-clearances.js';
import { DemoPost } from './demo-post.js';
import { Demo, makeDemo } from './make-demo.js';

/** Who enters the demo's setup and traces. */
const DEMO = 'demo';

/** A bench has the day for what it was cleared for. */
const DEMO_TTL_S = 86_400;

/** What of a house the demo needs. */
export interface DemoHouse {
  readonly book: BookDeps;
  readonly inbox: EventInbox;
  readonly reads: Pick<ReadStore, 'units' | 'eventStatus'>;
  readonly setupStore: SetupStore;
  readonly traces: TraceStore;
  readonly stations: Pick<StationStore, 'heard'>;
}

/** What the demo put into the book. */
export interface LoadedDemo {
  readonly units: number;
  readonly events: number;
  readonly rejected: number;
}

/**
 * Fills an empty book with the invented shift, by the way that station events always take. A book in which somebody has
 * entered setup of their own is left alone.
 * @param told is waited for after each post; left out where everything may be folded at the end
 * @throws Error where a trace cannot be kept, or the intake answers a post otherwise than the demo says it should
 */
export async function loadDemo(
  house: DemoHouse,
  told: (post: DemoPost) => Promise<void> = () => Promise.resolve(),
): Promise<LoadedDemo | undefined> {
  const { setup, traces, requests, posts } = makeDemo();
  if (!(await wantsDemo(house, posts))) return undefined;
  for (const { kind, name, body } of setup) await house.setupStore.revise(kind, name, body, DEMO);
  await keepTraces(house, traces);
  let events = 0;
  let rejected = 0;
  const due = [...requests];
  for (const post of posts) {
    while (due[0] !== undefined && isBefore(due[0], post)) {
      await foldDue(house);
      await ask(house, due.shift());
    }
    const turnedAway = await send(house, post);
    await told(post);
    rejected += turnedAway;
    events += post.events.length - turnedAway;
  }
  await foldDue(house);
  const { items } = await house.reads.units({}, { limit: 500, cursor: null });
  return { units: items.length, events, rejected };
}

/** An empty book, or one in which a start that was cut short left a part of the demo and nothing else. */
async function wantsDemo(house: DemoHouse, posts: readonly DemoPost[]): Promise<boolean> {
  await house.book.setup.catchUp();
  const foreign = SETUP_KINDS.flatMap((kind) => house.book.setup.all(kind)).some(
    ({ by }) => by !== DEMO && by !== HOUSE,
  );
  const last = posts.at(-1)?.events.at(-1)?.event;
  const source = String(last?.['source']);
  const complete = await house.reads.eventStatus({ source, id: String(last?.['id']) });
  return !foreign && complete === undefined;
}

/** Traces come before the heats that name them, so that each heat is judged once. */
async function keepTraces(house: DemoHouse, traces: Demo['traces']): Promise<void> {
  const desk = { traces: house.traces, seal: house.book.seal, clock: house.book.clock };
  for (const { name, csv, voltage } of traces) {
    const { outcome } = await keepTrace(desk, { name, voltage, by: DEMO, bytes: Buffer.from(csv) });
    if (outcome !== 'created' && outcome !== 'same') throw new Error(`trace ${name} of the demo is ${outcome}`);
  }
}

/** @returns how many events were turned away, as the demo means them to be. */
async function send(house: DemoHouse, { station, events }: DemoPost): Promise<number> {
  const reading = readBatch(JSON.stringify(events.map(({ event }) => event)));
  if (!reading.ok) throw new Error(`the demo cannot be read: ${reading.problem.detail}`);
  const deps = { inbox: house.inbox, seal: house.book.seal, wake: () => undefined };
  const { items, rejected } = await acceptEvents(deps, reading.items, {
    maySpeakFor: (source) => source === `/stations/${station}`,
  });
  events.forEach(({ expected }, n) => {
    const state = items[n]?.state;
    // Of a load that was cut short, what is there already comes again.
    const known = expected === 'accepted' && state === 'duplicate';
    if (state !== expected && !known)
      throw new Error(`the demo expected ${expected}, the intake said ${JSON.stringify(items[n])}`);
  });
  const heardAt = house.book.clock.now();
  const times = events.flatMap(({ event: { time } }) => (typeof time === 'string' ? [microTime(time)] : []));
  await house.stations.heard(times.map((eventTime) => ({ station, heardAt, eventTime })));
  return rejected;
}

/** Whether a bench asks before everything that a post tells of was over. */
function isBefore({ at }: DemoRequest, { events }: DemoPost): boolean {
  return events.some(({ event }) => Date.parse(at) < Date.parse(String(event['time'])));
}

/** Asks for a clearance as a bench does, at the time of the shift. */
async function ask({ book }: DemoHouse, request: DemoRequest | undefined): Promise<void> {
  if (request === undefined) return;
  const { id, at, expected, subject, station, operator, steps } = request;
  const then = { ...book, clock: { now: () => at }, newId: () => id };
  const actor = { kind: 'station', name: station } as const;
  const key = { caller: DEMO, key: id, bodyHash: id };
  const wish = { subject, station, operator, steps, ttlSeconds: DEMO_TTL_S, actor, request: key };
  const answer = await grantClearance(then, wish);
  const found = answer === 'other-body' ? answer : 'granted' in answer ? 'granted' : 'went-ahead';
  if (found !== expected)
    throw new Error(`the demo expected ${subject} ${expected}, the book said ${JSON.stringify(answer)}`);
}

async function foldDue({ book }: DemoHouse): Promise<void> {
  for (const shard of await book.store.shardsDue()) await foldShard(book, shard);
}
