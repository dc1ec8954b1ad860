import { loadConfig } from '../../libs/config/load-config.js';
import { openHouse } from '../house/open-house.js';
import { runService } from '../house/run-service.js';
import { serveHealth } from './serve-health.js';
import { startWorker } from './start-worker.js';

await runService('worker', async (log) => {
  const { databaseUrl, redisUrl, signingKey, origin, dataFolder, tracing, host, healthPort, warnings } = loadConfig();
  for (const line of warnings) log.warn(line);
  if (databaseUrl === undefined)
    throw new Error('DATABASE_URL is not set: a worker of its own needs a Postgres to share.');
  const house = await openHouse({
    ...{ databaseUrl, redisUrl, log, signingKey, origin, signedBeforeFolder: dataFolder },
    ...{ tracing, service: 'heatbook-worker' },
  });
  const worker = await startWorker(house);
  const health = healthPort === undefined ? undefined : await serveHealth(house, { host, port: healthPort });
  const stop = async (): Promise<void> => {
    await health?.close();
    await worker.close(8000);
    await house.close();
  };
  return { stop };
});
