import { nodeDigests } from '../../libs/evidence/node-digests.js';
import { seal } from '../../libs/evidence/seal.js';
import { BookDeps } from '../../libs/ledger/fold/book-deps.js';
import { foldShards } from '../../libs/ledger/fold/fold-shards.js';
import { acceptEvents } from '../../libs/ledger/intake/accept-events.js';
import { readBatch, ReadItem } from '../../libs/ledger/intake/read-events.js';
import { sequenceLog } from '../../libs/ledger/log/sequence-log.js';
import { SiteLogDeps } from '../../libs/ledger/log/site-log-deps.js';
import { MemorySetupStore } from '../../libs/ledger/memory/memory-setup-store.js';
import { MemorySignedBefore } from '../../libs/ledger/memory/memory-signed-before.js';
import { MemoryTables } from '../../libs/ledger/memory/memory-tables.js';
import { Clock } from '../../libs/ledger/ports/clock.js';
import { Log } from '../../libs/ledger/ports/log.js';
import { enterHouseLimits } from '../../libs/ledger/setup/house-setup.js';
import { SetupBook } from '../../libs/ledger/setup/setup-book.js';
import { Step } from '../reference/gate-words.js';
import { eventOf } from '../support/gate-events.js';
import { enterGateShop, openingEvents } from '../support/gate-shop.js';
import { silentLog } from '../support/silent-log.js';
import { copyOf } from './sim-tables.js';
import { SimStore, storeOn } from './sim-store.js';

const OPENING = '2026-04-01T06:00:00.000Z';

/** A book with its shop, from which every schedule begins anew. */
export interface SimShop {
  /** Make rows to begin with; what is done with them stays with whoever asked. */
  readonly beginnings: readonly (() => MemoryTables)[];
  /** Nobody enters setup in a schedule, so that everybody may read the same. */
  readonly setup: SetupBook;
}

/**
 * The shop of the naive gate, with its boards and devices as they came in; and the same after a device has been on both boards,
 * so that what comes late on one of them is told again with the other.
 */
export async function openSimShop(): Promise<SimShop> {
  const tables = new MemoryTables();
  const clock = { now: () => OPENING };
  const setupStore = new MemorySetupStore(tables, () => clock.now());
  const setup = new SetupBook(setupStore);
  await enterHouseLimits(setupStore, setup);
  await enterGateShop(setupStore);
  await setup.catchUp();
  const tell = async (book: MemoryTables, events: readonly object[]): Promise<void> => {
    const store = storeOn(book, () => clock.now());
    let ids = book.holds.size;
    const deps = depsOf(store, { setup, clock, newId: () => `opening-${String((ids += 1))}`, log: silentLog });
    await foldUndisturbed(deps, readEvents(events));
    await sequenceLog(logDepsOf(store, clock, silentLog));
  };
  await tell(tables, openingEvents(OPENING));
  const tied = copyOf(tables);
  await tell(tied, TRAVELS.map(travel));
  return { beginnings: [() => copyOf(tables), () => copyOf(tied)], setup };
}

/** A device goes on one board, comes off it and goes on the other. */
const TRAVELS: readonly { readonly subject: string; readonly doing: Step }[] = [
  { subject: 'PAIR/2', doing: { kind: 'removal', site: 'U2', fate: 'scrap', profile: 'HOT' } },
  { subject: 'PAIR/2', doing: { kind: 'placement', site: 'U2', device: 'N2', profile: 'HOT' } },
  { subject: 'PAIR/2', doing: { kind: 'removal', site: 'U2', fate: 'keep', profile: 'HOT' } },
  { subject: 'PAIR/1', doing: { kind: 'removal', site: 'U2', fate: 'scrap', profile: 'HOT' } },
  { subject: 'PAIR/1', doing: { kind: 'placement', site: 'U2', device: 'N2', profile: 'HOT' } },
];

function travel(fact: (typeof TRAVELS)[number], place: number): object {
  const time = new Date(Date.parse(OPENING) + (place + 1) * 60_000).toISOString();
  const measured = { own: 'melts', beside: 'cool' } as const;
  const said = eventOf({ ...fact, number: place, measured, time, startedAt: time, clearance: null });
  return { ...said, id: `travel-${String(place)}` };
}

/** Takes events in and folds them, with nobody else at work. */
export async function foldUndisturbed(deps: BookDeps, items: readonly ReadItem[]): Promise<void> {
  const { store } = deps;
  await acceptEvents({ inbox: store, seal, wake: () => undefined }, items, { maySpeakFor: () => true });
  for (let due = await store.shardsDue(); due.length > 0; due = await store.shardsDue()) {
    await foldShards(deps, due, { patient: false, requests: false });
  }
}

/** @throws Error where one of them is not as the API wants it */
export function readEvents(events: readonly object[]): readonly ReadItem[] {
  const reading = readBatch(JSON.stringify(events));
  const bad = reading.ok ? reading.items.find(({ ok }) => !ok) : reading;
  if (!reading.ok || bad !== undefined) throw new Error(`no event: ${JSON.stringify(bad)}`);
  return reading.items;
}

export function depsOf(
  { book, traces }: Pick<SimStore, 'book' | 'traces'>,
  given: Pick<BookDeps, 'setup' | 'clock' | 'newId' | 'log'>,
): BookDeps {
  return { store: book, traces, seal, ...given };
}

/** Nothing is signed: a key would take as long as all the rest. */
export function logDepsOf(store: Pick<SimStore, 'book' | 'read' | 'log'>, clock: Clock, log: Log): SiteLogDeps {
  return {
    ...{ siteLog: store.log, store: store.book, reads: store.read, seal, sha256: nodeDigests.sha256, clock, log },
    ...{ origin: 'rework.example/book', signer: undefined, signedBefore: new MemorySignedBefore() },
  };
}
