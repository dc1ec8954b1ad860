import { randomUUID } from 'node:crypto';
import { seal } from '../../libs/evidence/seal.js';
import { BookDeps } from '../../libs/ledger/fold/book-deps.js';
import { BacklogGate } from '../../libs/ledger/intake/backlog-gate.js';
import { batcherLimits, InboxBatcher } from '../../libs/ledger/intake/inbox-batcher.js';
import { EventInbox } from '../../libs/ledger/ports/book-store.js';
import { IdentityStores } from '../../libs/ledger/ports/identity-stores.js';
import { ReadLog } from '../../libs/ledger/log/read-log.js';
import { SiteLogDeps } from '../../libs/ledger/log/site-log-deps.js';
import { LogSigner } from '../../libs/ledger/log/log-signer.js';
import { TracingConfig } from '../../libs/config/load-config.js';
import { Log } from '../../libs/ledger/ports/log.js';
import { Tracer } from '../../libs/ledger/ports/tracer.js';
import { enterHouseLimits } from '../../libs/ledger/setup/house-setup.js';
import { SetupBook } from '../../libs/ledger/setup/setup-book.js';
import { Database, migrate, openDatabase } from '../../libs/postgres/open-database.js';
import { PgAccessStore } from '../../libs/postgres/pg-access-store.js';
import { PgChangeStore } from '../../libs/postgres/pg-change-store.js';
import { PgArchiveStore } from '../../libs/postgres/pg-archive-store.js';
import { PgBookStore } from '../../libs/postgres/pg-book-store.js';
import { PgContainmentStore } from '../../libs/postgres/pg-containment-store.js';
import { pgIdentity } from '../../libs/postgres/pg-identity.js';
import { PgCustomerReads } from '../../libs/postgres/pg-customer-reads.js';
import { PgKeyStore } from '../../libs/postgres/pg-key-store.js';
import { PgLogStore } from '../../libs/postgres/pg-log-store.js';
import { PgLedgerSearch } from '../../libs/postgres/pg-ledger-search.js';
import { PgNoticeStore } from '../../libs/postgres/pg-notice-store.js';
import { PgReadStore } from '../../libs/postgres/pg-read-store.js';
import { PgRetentionStore } from '../../libs/postgres/pg-retention-store.js';
import { PgSetupStore } from '../../libs/postgres/pg-setup-store.js';
import { PgStationStore } from '../../libs/postgres/pg-station-store.js';
import { PgTraceStore } from '../../libs/postgres/pg-trace-store.js';
import { JobCarrier, openJobCarrier } from '../../libs/queue/open-job-carrier.js';
import { LogSigning, openSiteLog } from './open-site-log.js';
import { Readiness } from './readiness.js';
import { Figures } from './metrics/figures.js';
import { openFigures } from './metrics/open-figures.js';
import { openTracing } from './tracing/open-tracing.js';

export interface HouseOptions extends LogSigning {
  readonly databaseUrl: string;
  /** Without one the queue runs on Postgres. */
  readonly redisUrl: string | undefined;
  readonly log: Log;
  /** Nothing is traced without. */
  readonly tracing?: TracingConfig | undefined;
  /** What this process is called in traces. */
  readonly service?: string;
  /** What it takes in before it asks stations to come again; the usual memory, and any backlog, unless told. */
  readonly intake?: IntakeBounds;
}

export interface IntakeBounds {
  /** Of events that wait for the database. */
  readonly memoryBytes: number;
  /** Events that may wait in the database to be judged. */
  readonly mostPending: number;
}

/** Everything that api, worker and command line are put together from, on one database and one queue. */
export interface House {
  readonly book: BookDeps;
  readonly inbox: EventInbox;
  readonly reads: PgReadStore;
  readonly customerReads: PgCustomerReads;
  readonly access: PgAccessStore;
  readonly setupStore: PgSetupStore;
  readonly keys: PgKeyStore;
  readonly identity: IdentityStores;
  readonly traces: PgTraceStore;
  /** What exports and the API ask of the site-wide log. */
  readonly siteLog: ReadLog;
  /** What the sequencer, the census and the check of the log stand on. */
  readonly logDeps: SiteLogDeps;
  /** Null where this process has no key. */
  readonly signer: LogSigner | null;
  readonly notices: PgNoticeStore;
  readonly search: PgLedgerSearch;
  readonly containments: PgContainmentStore;
  readonly archives: PgArchiveStore;
  readonly changes: PgChangeStore;
  readonly retention: PgRetentionStore;
  readonly stations: PgStationStore;
  readonly carrier: JobCarrier;
  readonly log: Log;
  /** Where spans go; undefined where nothing is traced. */
  readonly tracer: Tracer | undefined;
  /** What this process counts, and what it looks up for whoever asks. */
  readonly figures: Figures;
  /** Part by part: whether the house can work. */
  ready(): Promise<Readiness>;
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
  { databaseUrl, log, intake, tracing: wanted, service = 'heatbook', ...signing }: HouseOptions,
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
  const clock = { now: () => new Date().toISOString() };
  const reads = new PgReadStore(database.pool);
  const logStore = new PgLogStore(database.pool);
  const tracing = await openTracing(wanted, service, log);
  const { tracer } = tracing;
  const logged = { store, reads, seal, clock, log, tracer, queue: carrier.queue };
  const { logDeps, siteLog } = await openSiteLog(logStore, signing, logged).catch(async (error: unknown) => {
    await carrier.close();
    throw error;
  });
  const notices = new PgNoticeStore(database.pool);
  const { queue } = carrier;
  const { pool: main, sidePool: side, customerPool: customers } = database;
  const figures = openFigures({ reads, notices, siteLog, queue, clock, pools: { main, side, customers } });
  return {
    book: { store, traces, setup, seal, clock, newId: randomUUID, log },
    inbox: inboxOf(store, reads, intake),
    reads,
    customerReads: new PgCustomerReads(database.customerPool, database.confined),
    access: new PgAccessStore(database.pool),
    setupStore,
    keys: new PgKeyStore(database.dataSource),
    identity: pgIdentity(database.pool),
    traces,
    siteLog,
    logDeps,
    signer: logDeps.signer ?? null,
    notices,
    search: new PgLedgerSearch(database.pool),
    containments: new PgContainmentStore(database.sidePool),
    archives: new PgArchiveStore(database.pool),
    changes: new PgChangeStore(database.sidePool),
    retention: new PgRetentionStore(database.pool),
    stations: new PgStationStore(database.pool),
    carrier,
    log,
    tracer,
    figures,
    ready: async () => {
      const findings = await logStore.findings().catch(() => undefined);
      if (findings === undefined) return { ok: false, checks: { database: 'failing' } };
      // A book that was put back has forgotten heats: what it would clear now may be wrong.
      const ok = findings.every(({ trouble }) => trouble === null);
      return { ok, checks: { database: 'ok', log: ok ? 'ok' : 'failing' } };
    },
    close: async () => {
      figures.close();
      await carrier.close();
      await database.close();
      await tracing.close();
    },
  };
}

function inboxOf(store: PgBookStore, reads: PgReadStore, intake: IntakeBounds | undefined): EventInbox {
  if (intake === undefined) return new InboxBatcher(store);
  const { memoryBytes, mostPending } = intake;
  const batcher = new InboxBatcher(store, batcherLimits(memoryBytes));
  return new BacklogGate(batcher, { reads, mostPending, elapsedMs: () => performance.now() });
}
