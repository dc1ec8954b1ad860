import { randomUUID } from 'node:crypto';
import { seal } from '../../libs/evidence/seal.js';
import { BookDeps } from '../../libs/ledger/fold/book-deps.js';
import { FoldDesk } from '../../libs/ledger/fold/fold-desk.js';
import { acceptEvents, AcceptedEvents } from '../../libs/ledger/intake/accept-events.js';
import { InboxBatcher } from '../../libs/ledger/intake/inbox-batcher.js';
import { readBatch } from '../../libs/ledger/intake/read-events.js';
import { memoryBook } from '../../libs/ledger/memory/memory-book.js';
import { BookStore } from '../../libs/ledger/ports/book-store.js';
import { Clock } from '../../libs/ledger/ports/clock.js';
import { ContainmentStore } from '../../libs/ledger/ports/containment-store.js';
import { LogStore } from '../../libs/ledger/ports/log-store.js';
import { RecountStore } from '../../libs/ledger/ports/recount-store.js';
import { LedgerSearch } from '../../libs/ledger/ports/ledger-search.js';
import { NoticeStore } from '../../libs/ledger/ports/notice-store.js';
import { ReadStore } from '../../libs/ledger/ports/read-store.js';
import { SetupStore } from '../../libs/ledger/ports/setup-store.js';
import { enterHouseLimits } from '../../libs/ledger/setup/house-setup.js';
import { SetupBook } from '../../libs/ledger/setup/setup-book.js';
import { openDatabase } from '../../libs/postgres/open-database.js';
import { PgBookStore } from '../../libs/postgres/pg-book-store.js';
import { PgContainmentStore } from '../../libs/postgres/pg-containment-store.js';
import { PgLogStore } from '../../libs/postgres/pg-log-store.js';
import { PgLedgerSearch } from '../../libs/postgres/pg-ledger-search.js';
import { PgRecountStore } from '../../libs/postgres/pg-recount-store.js';
import { PgNoticeStore } from '../../libs/postgres/pg-notice-store.js';
import { PgReadStore } from '../../libs/postgres/pg-read-store.js';
import { PgTraceStore } from '../../libs/postgres/pg-trace-store.js';
import { TraceStore } from '../../libs/ledger/ports/trace-store.js';
import { PgSetupStore } from '../../libs/postgres/pg-setup-store.js';
import { Picture, pictureOf } from './book-picture.js';
import { migratedDatabase } from './migrated-database.js';
import { silentLog } from './silent-log.js';

/** A book without its HTTP face: what stations say goes in, the picture comes out. */
export interface BookHarness {
  readonly deps: BookDeps;
  readonly reads: ReadStore;
  readonly notices: NoticeStore;
  readonly search: LedgerSearch;
  readonly containments: ContainmentStore;
  readonly siteLog: LogStore;
  readonly recount: RecountStore;
  readonly setupStore: SetupStore;
  post(events: readonly object[]): Promise<AcceptedEvents>;
  /** Folds until nothing is pending, with as many workers at once. */
  fold(workers?: number): Promise<void>;
  picture(): Promise<Picture>;
  close(): Promise<void>;
}

const WALL_CLOCK: Clock = { now: () => new Date().toISOString() };

/** @param clock what the book takes for now; that of the machine unless given. */
export async function memoryHarness(clock: Clock = WALL_CLOCK): Promise<BookHarness> {
  const book = memoryBook({ now: () => clock.now() });
  return furnish(book.book, book.read, book.setup, book.traces, book.notices, { ...book, clock }, () =>
    Promise.resolve(),
  );
}

/** @param clock what the book takes for now, but for when rows were made. */
export async function postgresHarness(clock: Clock = WALL_CLOCK): Promise<BookHarness> {
  const fresh = await migratedDatabase();
  const book = await harnessOn(fresh.url, clock);
  return {
    ...book,
    close: async () => {
      await book.close();
      await fresh.drop();
    },
  };
}

/** On a migrated database that is the caller's. */
export async function harnessOn(url: string, clock: Clock = WALL_CLOCK): Promise<BookHarness> {
  const database = await openDatabase({ url, log: silentLog });
  const { pool, sidePool, dataSource } = database;
  return furnish(
    new PgBookStore(pool),
    new PgReadStore(pool),
    new PgSetupStore(dataSource),
    new PgTraceStore(sidePool),
    new PgNoticeStore(pool),
    {
      search: new PgLedgerSearch(pool),
      containments: new PgContainmentStore(sidePool),
      siteLog: new PgLogStore(pool),
      recount: new PgRecountStore(pool),
      clock,
    },
    () => database.close(),
  );
}

async function furnish(
  store: BookStore,
  reads: ReadStore,
  setupStore: SetupStore,
  traces: TraceStore,
  notices: NoticeStore,
  {
    search,
    containments,
    siteLog,
    recount,
    clock,
  }: Pick<BookHarness, 'search' | 'containments' | 'siteLog' | 'recount'> & { readonly clock: Clock },
  close: () => Promise<void>,
): Promise<BookHarness> {
  const setup = new SetupBook(setupStore);
  await enterHouseLimits(setupStore, setup);
  const deps: BookDeps = { store, traces, setup, seal, clock, newId: randomUUID, log: silentLog };
  const inbox = new InboxBatcher(store);
  return {
    deps,
    reads,
    notices,
    search,
    containments,
    siteLog,
    recount,
    setupStore,
    post: async (events) => {
      const reading = readBatch(JSON.stringify(events));
      if (!reading.ok) throw new Error(reading.problem.detail);
      return acceptEvents({ inbox, seal, wake: () => undefined }, reading.items, { maySpeakFor: () => true });
    },
    fold: async (workers = 1) => {
      const drain = async (): Promise<void> => {
        const desk = new FoldDesk(deps);
        for (let due = await store.shardsDue(); due.length > 0; due = await store.shardsDue()) {
          await Promise.all(due.map((shard) => desk.fold(shard)));
        }
      };
      await Promise.all(Array.from({ length: workers }, drain));
    },
    picture: () => pictureOf(reads),
    close,
  };
}
