import pg from 'pg';
import { DataSource } from 'typeorm';
import { OpenTheBook1764000000000 } from '../../migrations/1764000000000-open-the-book.js';
import { FindSiteWork1764200000000 } from '../../migrations/1764200000000-find-site-work.js';
import { KeepTraces1764100000000 } from '../../migrations/1764100000000-keep-traces.js';
import { GrantClearances1764310000000 } from '../../migrations/1764310000000-grant-clearances.js';
import { KnowPeople1764320000000 } from '../../migrations/1764320000000-know-people.js';
import { WorkTheHolds1764300000000 } from '../../migrations/1764300000000-work-the-holds.js';
import { ConfineCustomers1764330000000 } from '../../migrations/1764330000000-confine-customers.js';
import { RecordAccess1764331000000 } from '../../migrations/1764331000000-record-access.js';
import { Contain1764340000000 } from '../../migrations/1764340000000-contain.js';
import { GiveNotice1764360000000 } from '../../migrations/1764360000000-give-notice.js';
import { PlanForTheHouse1764370000000 } from '../../migrations/1764370000000-plan-for-the-house.js';
import { TightenTwoPeople1764380000000 } from '../../migrations/1764380000000-tighten-two-people.js';
import { MakeArchives1764410000000 } from '../../migrations/1764410000000-make-archives.js';
import { KeepTheLog1764400000000 } from '../../migrations/1764400000000-keep-the-log.js';
import { KeepLegalHolds1764421000000 } from '../../migrations/1764421000000-keep-legal-holds.js';
import { TellChanges1764422000000 } from '../../migrations/1764422000000-tell-changes.js';
import { HearStations1764423000000 } from '../../migrations/1764423000000-hear-stations.js';
import { OrderTheDesk1764424000000 } from '../../migrations/1764424000000-order-the-desk.js';
import { FindHolds1764510000000 } from '../../migrations/1764510000000-find-holds.js';
import { QuickenTheFold1764500000000 } from '../../migrations/1764500000000-quicken-the-fold.js';
import { SettleTables1764530000000 } from '../../migrations/1764530000000-settle-tables.js';
import { NameRequests1764540000000 } from '../../migrations/1764540000000-name-requests.js';
import { NameSigners1764420000000 } from '../../migrations/1764420000000-name-signers.js';
import { THE_HOUSE } from '../ledger/ports/customer-reads.js';
import { RecheckLimits1764350000000 } from '../../migrations/1764350000000-recheck-limits.js';
import { Log } from '../ledger/ports/log.js';
import { AccessKeyEntity } from './access-key.entity.js';
import { SetupRevisionEntity } from './setup-revision.entity.js';

/** The role that the service works under: it may add to the book, not rewrite it. */
const APP_ROLE = 'heatbook_app';
/** Lets a connection see every customer's rows. */
export const AS_THE_HOUSE = `-c heatbook.customer=${THE_HOUSE}`;
/** What the planner is to take for granted. */
export const PLANNING = [
  // Queue tables grow and empty all day: plans cached while they were empty would scan them when they are not.
  '-c plan_cache_mode=force_custom_plan',
  // As for disks without arms. With the figure for those that have them, the open holds among some thousand closed ones
  // were looked for in all of the table.
  '-c random_page_cost=1.1',
];
const CUSTOMER_CONNECTIONS = 4;
const SIDE_CONNECTIONS = 3;

/** Every migration that there is; they run in the order of the time in their names. */
export const MIGRATIONS = [
  OpenTheBook1764000000000,
  KeepTraces1764100000000,
  FindSiteWork1764200000000,
  WorkTheHolds1764300000000,
  GrantClearances1764310000000,
  KnowPeople1764320000000,
  ConfineCustomers1764330000000,
  RecordAccess1764331000000,
  RecheckLimits1764350000000,
  Contain1764340000000,
  GiveNotice1764360000000,
  PlanForTheHouse1764370000000,
  TightenTwoPeople1764380000000,
  KeepTheLog1764400000000,
  NameSigners1764420000000,
  KeepLegalHolds1764421000000,
  MakeArchives1764410000000,
  TellChanges1764422000000,
  HearStations1764423000000,
  OrderTheDesk1764424000000,
  QuickenTheFold1764500000000,
  FindHolds1764510000000,
  SettleTables1764530000000,
  NameRequests1764540000000,
] as const;

export interface Database {
  /** For setup and keys. */
  readonly dataSource: DataSource;
  /** For the hot path: intake, folding, reading. */
  readonly pool: pg.Pool;
  /**
   * For what is read or told while a transaction of `pool` goes on. Were that to wait for another connection of the same
   * pool, transactions that have all of them would wait for each other for ever.
   */
  readonly sidePool: pg.Pool;
  /** For customers: its connections see nothing until a transaction names one. */
  readonly customerPool: pg.Pool;
  /** Whether row-level security binds the role that the pools work under. */
  readonly confined: boolean;
  close(): Promise<void>;
}

export interface DatabaseOptions {
  readonly url: string;
  readonly log: Log;
  /** Most connections of the hot path. */
  readonly connections?: number;
}

/** Brings a database to the newest schema. Safe to run from several processes at once. */
export async function migrate(url: string): Promise<void> {
  const dataSource = new DataSource({
    type: 'postgres',
    url,
    poolSize: 2,
    migrations: [...MIGRATIONS],
    migrationsTransactionMode: 'all',
    // What a migration moves, it must see, also where the owner of the tables is no superuser.
    extra: { options: AS_THE_HOUSE },
  });
  await dataSource.initialize();
  try {
    // TypeORM does not lock; two services that start together would both migrate.
    const runner = dataSource.createQueryRunner();
    await runner.query(`SELECT pg_advisory_lock(hashtext('heatbook migrations'))`);
    try {
      await dataSource.runMigrations();
    } finally {
      await runner.query(`SELECT pg_advisory_unlock(hashtext('heatbook migrations'))`);
      await runner.release();
    }
  } finally {
    await dataSource.destroy();
  }
}

/** Opens a migrated database, under the service's own role where there is one. */
export async function openDatabase(options: DatabaseOptions): Promise<Database> {
  const { url, log, connections = 10 } = options;
  const roleOption = (await mayTakeRole(url)) ? `-c role=${APP_ROLE}` : undefined;
  if (roleOption === undefined) log.warn(`role ${APP_ROLE} is not to be had: working as the connecting role`);
  const pooled = (max: number, ...settings: string[]): pg.Pool =>
    new pg.Pool({
      connectionString: url,
      max,
      application_name: 'heatbook',
      // Statements that do not need each other's answers are sent together.
      pipeline: true,
      onConnect: survive,
      options: [roleOption, ...PLANNING, ...settings].filter(Boolean).join(' '),
    });
  const pool = pooled(connections, AS_THE_HOUSE);
  const sidePool = pooled(SIDE_CONNECTIONS, AS_THE_HOUSE);
  const customerPool = pooled(CUSTOMER_CONNECTIONS);
  let closing = false;
  // While everything stops, a server may end connections that we are just letting go of.
  const idleBroke = (error: Error): void => {
    if (!closing) log.warn('an idle database connection broke', { error: error.message });
  };
  for (const one of [pool, sidePool, customerPool]) one.on('error', idleBroke);
  const dataSource = new DataSource({
    type: 'postgres',
    url,
    poolSize: 3,
    entities: [SetupRevisionEntity, AccessKeyEntity],
    extra: { options: [roleOption, AS_THE_HOUSE].filter(Boolean).join(' '), onConnect: survive },
    poolErrorHandler: idleBroke,
  });
  await dataSource.initialize();
  const confined = await isConfined(pool);
  if (!confined) log.error('customers are not served: row-level security does not bind the database role');
  return {
    dataSource,
    pool,
    sidePool,
    customerPool,
    confined,
    close: async () => {
      closing = true;
      await Promise.all([dataSource.destroy(), pool.end(), sidePool.end(), customerPool.end()]);
    },
  };
}

/**
 * A connection that breaks says so by an event, and one that nobody listens to ends the process: as when the server goes
 * away between handing out a connection and its first statement. Whoever works on it learns of it from that statement.
 */
function survive(client: pg.ClientBase): void {
  client.on('error', () => undefined);
}

/** Superusers and roles with BYPASSRLS see everything, whatever the policies say. */
async function isConfined(pool: pg.Pool): Promise<boolean> {
  const { rows } = await pool.query<{ confined: boolean }>(
    `SELECT NOT (rolsuper OR rolbypassrls) AS confined FROM pg_roles WHERE rolname = current_user`,
  );
  return rows[0]?.confined === true;
}

async function mayTakeRole(url: string): Promise<boolean> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    const { rows } = await client.query<{ may: boolean }>(
      `SELECT pg_has_role(current_user, oid, 'MEMBER') AS may FROM pg_roles WHERE rolname = $1`,
      [APP_ROLE],
    );
    return rows[0]?.may === true;
  } finally {
    await client.end();
  }
}
