import { randomUUID } from 'node:crypto';
import { seal } from '../../libs/evidence/seal.js';
import { BookDeps } from '../../libs/ledger/fold/book-deps.js';
import { InboxBatcher } from '../../libs/ledger/intake/inbox-batcher.js';
import { IdentityStores } from '../../libs/ledger/ports/identity-stores.js';
import { Log } from '../../libs/ledger/ports/log.js';
import { enterHouseLimits } from '../../libs/ledger/setup/house-setup.js';
import { SetupBook } from '../../libs/ledger/setup/setup-book.js';
import { Database, migrate, openDatabase } from '../../libs/postgres/open-database.js';
import { PgAccessStore } from '../../libs/postgres/pg-access-store.js';
import { PgBookStore } from '../../libs/postgres/pg-book-store.js';
import { PgContainmentStore } from '../../libs/postgres/pg-containment-store.js';
import { pgIdentity } from '../../libs/postgres/pg-identity.js';
import { PgCustomerReads } from '../../libs/postgres/pg-customer-reads.js';
import { PgKeyStore } from '../../libs/postgres/pg-key-store.js';
import { PgLedgerSearch } from '../../libs/postgres/pg-ledger-search.js';
import { PgNoticeStore } from '../../libs/postgres/pg-notice-store.js';
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
  readonly customerReads: PgCustomerReads;
  readonly access: PgAccessStore;
  readonly setupStore: PgSetupStore;
  readonly keys: PgKeyStore;
  readonly identity: IdentityStores;
  readonly traces: PgTraceStore;
  readonly notices: PgNoticeStore;
  readonly search: PgLedgerSearch;
  readonly containments: PgContainmentStore;
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
  const traces = new PgTraceStore(database.sidePool);
  const setup = new SetupBook(setupStore);
  await enterHouseLimits(setupStore, setup);
  const carrier = await openJobCarrier(
    redisUrl === undefined ? { kind: 'postgres', databaseUrl } : { kind: 'redis', url: redisUrl },
    {
      // The message has the reason in it; the error drags its whole connection along.
      log: ({ message, suppressed }) => {
        log.warn(message, { suppressed });
      },
    },
  );
  return {
    book: { store, traces, setup, seal, clock: { now: () => new Date().toISOString() }, newId: randomUUID, log },
    inbox: new InboxBatcher(store),
    reads: new PgReadStore(database.pool),
    customerReads: new PgCustomerReads(database.customerPool, database.confined),
    access: new PgAccessStore(database.pool),
    setupStore,
    keys: new PgKeyStore(database.dataSource),
    identity: pgIdentity(database.pool),
    traces,
    notices: new PgNoticeStore(database.pool),
    search: new PgLedgerSearch(database.pool),
    containments: new PgContainmentStore(database.sidePool),
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
