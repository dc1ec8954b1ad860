import { createPostgresBackend, type PostgresPoolConfig, runMigrations } from 'bullmq';
import pg from 'pg';
import type { CarrierBackend } from './carrier-backend.js';
import type { CarrierSettings } from './carrier-settings.js';
import { PatientPostgresBackend } from './patient-postgres-backend.js';

/** Queries of one queue or worker that may run at once; a worker has one more connection that listens. */
const POOL_SIZE = 2;
const CONNECT_TIMEOUT_MS = 5_000;

/**
 * Carries jobs in tables of BullMQ's own, in a schema of their own, and brings these up to date. The role needs CREATE
 * on the database the first time.
 *
 * @param schema letters, digits and underscores
 * @throws the error of the driver, when the database is away or the role may not create the schema
 */
export async function openPostgresBackend(
  databaseUrl: string,
  schema: string,
  settings: CarrierSettings,
): Promise<CarrierBackend> {
  await migrateQueueTables(databaseUrl, schema);
  const connectingWithin = (connectionTimeoutMillis: number): PostgresPoolConfig => ({
    connectionString: databaseUrl,
    schema,
    max: POOL_SIZE,
    connectionTimeoutMillis,
    keepAlive: true,
    application_name: 'heatbook wake-ups',
  });
  return {
    producer: {
      factory: (name, options, kind) => {
        const connection = connectingWithin(settings.addTimeoutMs);
        return createPostgresBackend(name, { ...options, connection }, kind);
      },
      release: nothingToRelease,
    },
    connectWorker: () => ({
      factory: (name, options) => {
        const connection = connectingWithin(CONNECT_TIMEOUT_MS);
        return new PatientPostgresBackend(connection, name, options, settings.retryFetchMs);
      },
      release: nothingToRelease,
    }),
    // Schedules are ordinary rows here: what comes back is what was there.
    onReturn: () => undefined,
    // New jobs are announced by NOTIFY and delayed ones have their own timer: looking is for a lost notification.
    idleLookSeconds: 30,
  };
}

/** BullMQ builds its pools from the settings it is given, so it closes them too. */
function nothingToRelease(): Promise<void> {
  return Promise.resolve();
}

async function migrateQueueTables(databaseUrl: string, schema: string): Promise<void> {
  const client = new pg.Client({ connectionString: databaseUrl, connectionTimeoutMillis: CONNECT_TIMEOUT_MS });
  // A connection that breaks between two statements must not end the process; the next statement reports it.
  client.on('error', () => undefined);
  await client.connect();
  try {
    await runMigrations(client, schema);
  } finally {
    await client.end();
  }
}
