import { loadConfig } from '../../libs/config/load-config.js';
import { openHouse } from '../house/open-house.js';
import { runService } from '../house/run-service.js';
import { serveApi } from './serve-api.js';

await runService('api', async (log) => {
  const { databaseUrl, redisUrl, signingKey, origin, dataFolder, warnings, tracing, ...options } = loadConfig();
  for (const line of warnings) log.warn(line);
  if (databaseUrl === undefined)
    throw new Error('DATABASE_URL is not set: an api of its own needs a Postgres to share.');
  const { intake } = options;
  const house = await openHouse({
    ...{ databaseUrl, redisUrl, log, signingKey, origin, intake, signedBeforeFolder: dataFolder },
    ...{ tracing, service: 'heatbook-api' },
  });
  const api = await serveApi(house, options);
  const stop = async (): Promise<void> => {
    await api.close();
    await house.close();
  };
  return { url: api.url, stop };
});
