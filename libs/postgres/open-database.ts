import pg from 'pg';
import { DataSource } from 'typeorm';
import { OpenTheBook1764000000000 } from '../../migrations/1764000000000-open-the-book.js';
import { FindSiteWork1764200000000 } from '../../migrations/1764200000000-find-site-work.js';
import { KeepTraces1764100000000 } from '../../migrations/1764100000000-keep-traces.js';
import { WorkTheHolds1764300000000 } from '../../migrations/1764300000000-work-the-holds.js';
import { Log } from '../ledger/ports/log.js';
import { AccessKeyEntity } from './access-key.entity.js';
import { SetupRevisionEntity } from './setup-revision.entity.js';

/** The role that the service works under: it may add to the book, not rewrite it. */
const APP_ROLE = 'heatbook_app';

export interface Database {
  /** For setup and keys. */
  readonly dataSource: DataSource;
  /** For the hot path: intake, folding, reading. */
  readonly pool: pg.Pool;
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
    migrations: [
      OpenTheBook1764000000000,
      KeepTraces1764100000000,
      FindSiteWork1764200000000,
      WorkTheHolds1764300000000,
    ],
    migrationsTransactionMode: 'all',
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
  const pool = new pg.Pool({
    connectionString: url,
    max: connections,
    application_name: 'heatbook',
    // Queue tables grow and empty all day: plans cached while they were empty would scan them when they are not.
    options: [roleOption, '-c plan_cache_mode=force_custom_plan'].filter(Boolean).join(' '),
  });
  let closing = false;
  // While everything stops, a server may end connections that we are just letting go of.
  const idleBroke = (error: Error): void => {
    if (!closing) log.warn('an idle database connection broke', { error: error.message });
  };
  pool.on('error', idleBroke);
  const dataSource = new DataSource({
    type: 'postgres',
    url,
    poolSize: 3,
    entities: [SetupRevisionEntity, AccessKeyEntity],
    extra: roleOption === undefined ? {} : { options: roleOption },
    poolErrorHandler: idleBroke,
  });
  await dataSource.initialize();
  return {
    dataSource,
    pool,
    close: async () => {
      closing = true;
      await Promise.all([dataSource.destroy(), pool.end()]);
    },
  };
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
