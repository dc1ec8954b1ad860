import { foldShard } from '../../../libs/ledger/fold/fold-shard.js';
import { acceptEvents } from '../../../libs/ledger/intake/accept-events.js';
import { readBatch } from '../../../libs/ledger/intake/read-events.js';
import { House } from '../../house/open-house.js';
import { DemoPost } from './demo-post.js';
import { makeDemo } from './make-demo.js';

/** What the demo put into the book. */
export interface LoadedDemo {
  readonly units: number;
  readonly events: number;
  readonly rejected: number;
}

/**
 * Fills an empty book with the invented shift, by the way that station events always take. A book that holds anything
 * but the house limits is left alone.
 * @throws Error where the intake answers a post otherwise than the demo says it should
 */
export async function loadDemo(house: House): Promise<LoadedDemo | undefined> {
  const { setup, posts } = makeDemo();
  if (!(await isEmpty(house))) return undefined;
  for (const { kind, name, body } of setup) await house.setupStore.revise(kind, name, body, 'demo');
  let events = 0;
  let rejected = 0;
  for (const post of posts) {
    const turnedAway = await send(house, post);
    rejected += turnedAway;
    events += post.events.length - turnedAway;
  }
  for (const shard of await house.book.store.shardsDue()) await foldShard(house.book, shard);
  const { items } = await house.reads.units({}, { limit: 500, cursor: null });
  return { units: items.length, events, rejected };
}

async function isEmpty(house: House): Promise<boolean> {
  await house.book.setup.catchUp();
  const { pending, parked } = await house.reads.backlog();
  const { items } = await house.reads.units({}, { limit: 1, cursor: null });
  return items.length === 0 && pending + parked === 0 && house.book.setup.all('assembly').length === 0;
}

/** @returns how many events were turned away, as the demo means them to be. */
async function send(house: House, { station, events }: DemoPost): Promise<number> {
  const reading = readBatch(JSON.stringify(events.map(({ event }) => event)));
  if (!reading.ok) throw new Error(`the demo cannot be read: ${reading.problem.detail}`);
  const deps = { inbox: house.inbox, seal: house.book.seal, wake: () => undefined };
  const { items, rejected } = await acceptEvents(deps, reading.items, {
    maySpeakFor: (source) => source === `/stations/${station}`,
  });
  events.forEach(({ expected }, n) => {
    const state = items[n]?.state;
    if (state !== expected)
      throw new Error(`the demo expected ${expected}, the intake said ${JSON.stringify(items[n])}`);
  });
  return rejected;
}
