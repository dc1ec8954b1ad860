import { randomUUID } from 'node:crypto';
import { seal } from '../../libs/evidence/seal.js';
import { BookDeps } from '../../libs/ledger/fold/book-deps.js';
import { InboxBatcher } from '../../libs/ledger/intake/inbox-batcher.js';
import { Log } from '../../libs/ledger/ports/log.js';
import { enterHouseLimits } from '../../libs/ledger/setup/house-setup.js';
import { SetupBook } from '../../libs/ledger/setup/setup-book.js';
import { Database, migrate, openDatabase } from '../../libs/postgres/open-database.js';
import { PgBookStore } from '../../libs/postgres/pg-book-store.js';
import { PgKeyStore } from '../../libs/postgres/pg-key-store.js';
import { PgReadStore } from '../../libs/postgres/pg-read-store.js';
import { PgSetupStore } from '../../libs/postgres/pg-setup-store.js';
import { PgTraceStore } from '../../libs/postgres/pg-trace-store.js';
import { JobCarrier, openJobCarrier } from '../../libs/queue/open-job-carrier.js';

export interface HouseOptions {
  readonly databaseUrl: string;
  /** Without one the queue runs on Postgres. */
  readonly redisUrl: string | undefined;
  readonly log: Log;
}

/** Everything that api, worker and command line are put together from, on one database and one queue. */
export interface House {
  readonly book: BookDeps;
  readonly inbox: InboxBatcher;
  readonly reads: PgReadStore;
  readonly setupStore: PgSetupStore;
  readonly keys: PgKeyStore;
  readonly traces: PgTraceStore;
  readonly carrier: JobCarrier;
  readonly log: Log;
  /** Part by part: whether the house can work. */
  ready(): Promise<{ ok: boolean; checks: Record<string, 'ok' | 'failing'> }>;
  close(): Promise<void>;
}

/** Migrates the database, opens stores and queue, and enters the house limits into a new book. */
export async function openHouse(options: HouseOptions): Promise<House> {
  const { databaseUrl, redisUrl, log } = options;
  await migrate(databaseUrl);
  const database = await openDatabase({ url: databaseUrl, log });
  try {
    return await furnish(options, database, redisUrl);
  } catch (error) {
    await database.close();
    throw error;
  }
}

async function furnish(
  { databaseUrl, log }: HouseOptions,
  database: Database,
  redisUrl: string | undefined,
): Promise<House> {
  const store = new PgBookStore(database.pool);
  const setupStore = new PgSetupStore(database.dataSource);
  const traces = new PgTraceStore(database.pool);
  const setup = new SetupBook(setupStore);
  await enterHouseLimits(setupStore, setup);
  const carrier = await openJobCarrier(
    redisUrl === undefined ? { kind: 'postgres', databaseUrl } : { kind: 'redis', url: redisUrl },
    {
      log: ({ message, error, suppressed }) => {
        log.warn(message, { error, suppressed });
      },
    },
  );
  return {
    book: { store, traces, setup, seal, clock: { now: () => new Date().toISOString() }, newId: randomUUID, log },
    inbox: new InboxBatcher(store),
    reads: new PgReadStore(database.pool),
    setupStore,
    keys: new PgKeyStore(database.dataSource),
    traces,
    carrier,
    log,
    ready: async () => {
      const alive = await database.pool.query('SELECT 1').then(
        () => true,
        () => false,
      );
      return { ok: alive, checks: { database: alive ? 'ok' : 'failing' } };
    },
    close: async () => {
      await carrier.close();
      await database.close();
    },
  };
}
