import { join } from 'node:path';
import { ConfigError } from '../../../libs/config/config-error.js';
import { HeatbookConfig, loadConfig } from '../../../libs/config/load-config.js';
import { Log } from '../../../libs/ledger/ports/log.js';
import { EmbeddedPostgresError } from '../../../libs/postgres/embedded/embedded-postgres-error.js';
import { startEmbeddedPostgres } from '../../../libs/postgres/embedded/start-embedded-postgres.js';
import { openHouse } from '../../house/open-house.js';
import { ownSigningKey } from '../../house/signing-key-file.js';
import { serveApi } from '../../api/serve-api.js';
import { stopSignal } from '../../house/stop-signal.js';
import { startWorker } from '../../worker/start-worker.js';
import { loadDemo } from '../demo/load-demo.js';
import { assertPortFree, PortTaken } from '../port-check.js';
import { firstAdminKey } from './admin-key.js';
import { firstAdminPassword } from './admin-password.js';
import { greeting } from './greeting.js';

/** What has been started and must be stopped again, last one first. */
type Stops = { readonly what: string; readonly stop: () => Promise<unknown> }[];

/**
 * Runs the whole product in this process until SIGINT or SIGTERM.
 * @returns the exit code: 0 stopped as asked, 1 could not start, 2 the environment is at fault.
 */
export async function run(): Promise<number> {
  const stops: Stops = [];
  const asked = stopSignal();
  try {
    await start(loadConfig(), stops);
    await asked;
    process.stdout.write('Heatbook stops.\n');
    return 0;
  } catch (error) {
    process.stderr.write(`${inOneLine(error)}\n`);
    return error instanceof ConfigError ? 2 : 1;
  } finally {
    for (const { what, stop } of stops.reverse()) {
      await stop().catch((error: unknown) => {
        process.stderr.write(`${what} did not stop cleanly: ${inOneLine(error)}\n`);
      });
    }
  }
}

async function start(config: HeatbookConfig, stops: Stops): Promise<void> {
  for (const line of config.warnings) consoleLog.warn(line);
  await assertPortFree(config.host, config.port);
  const databaseUrl = config.databaseUrl ?? (await startOwnPostgres(config, stops));
  const house = await openHouse({
    ...{ databaseUrl, redisUrl: config.redisUrl, log: consoleLog, origin: config.origin, intake: config.intake },
    ...{ signingKey: await signingKeyOf(config), signedBeforeFolder: config.dataFolder },
    tracing: config.tracing,
  });
  stops.push({ what: 'the database connection', stop: () => house.close() });
  const worker = await startWorker(house);
  stops.push({ what: 'the worker', stop: () => worker.close(8000) });
  const demo = config.demo ? await loadDemo(house) : undefined;
  const api = await serveApi(house, config);
  stops.push({ what: 'the API', stop: () => api.close() });
  const [unit] = (await house.reads.units({}, { limit: 1, cursor: null })).items;
  // Made last: a start that fails or is killed before this point must not use up what is shown once.
  const password = await firstAdminPassword(house);
  const key = config.adminKey === undefined ? await firstAdminKey(house) : undefined;
  process.stdout.write(greeting({ url: api.url, password, key, config, demo, unit }));
}

/** With a database of its own it has a key of its own; a shared database's key is for its owner to make. */
async function signingKeyOf(config: HeatbookConfig): Promise<string | undefined> {
  if (config.signingKey !== undefined || config.databaseUrl !== undefined) return config.signingKey;
  return ownSigningKey(config.dataFolder, (line) => {
    consoleLog.warn(line);
  });
}

async function startOwnPostgres(config: HeatbookConfig, stops: Stops): Promise<string> {
  const postgres = await startEmbeddedPostgres({
    folder: join(config.dataFolder, 'postgres'),
    log: (line) => {
      process.stderr.write(`${line}\n`);
    },
  });
  stops.push({ what: 'Postgres', stop: () => postgres.stop() });
  return postgres.url;
}

function inOneLine(error: unknown): string {
  if (error instanceof ConfigError) return error.problems.join('\n');
  if (error instanceof EmbeddedPostgresError || error instanceof PortTaken) return error.message;
  return `Heatbook cannot start: ${error instanceof Error ? error.message.replaceAll(/\s*\n\s*/g, ' ') : String(error)}`;
}

/** Trouble goes to standard error, in words; what goes well is not talked about. */
const consoleLog: Log = {
  info: () => undefined,
  warn: (message, details) => process.stderr.write(`warning: ${message}${inBrackets(details)}\n`),
  error: (message, details) => process.stderr.write(`error: ${message}${inBrackets(details)}\n`),
};

function inBrackets(details: Readonly<Record<string, unknown>> | undefined): string {
  return details === undefined ? '' : ` (${JSON.stringify(details)})`;
}
