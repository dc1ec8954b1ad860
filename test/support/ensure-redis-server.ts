import { ensureProgram } from './ensure-program.js';

/** Makes sure that redis-server can be run: installs it with apt where that is possible, else says what to install. */
export async function ensureRedisServer(): Promise<void> {
  await ensureProgram({
    names: ['redis-server'],
    apt: 'redis-server',
    otherwise: 'install 6.2 or newer, or set REDIS_URL to a Redis of your own',
  });
}
