import { ConfigError } from '../../libs/config/config-error.js';
import { Log } from '../../libs/ledger/ports/log.js';
import { jsonLog } from './json-log.js';
import { stopSignal } from './stop-signal.js';

/**
 * Runs a service until it is told to stop. A start that fails is one line and exit code 1, or 2 where the
 * environment is at fault.
 * @param start starts it; returns where it listens, if anywhere, and how to stop it.
 */
export async function runService(
  name: string,
  start: (log: Log) => Promise<{ url?: string; stop: () => Promise<void> }>,
): Promise<void> {
  const log = jsonLog(name, (line) => process.stderr.write(line));
  const stopped = stopSignal();
  try {
    const { url, stop } = await start(log);
    log.info(`${name} is up`, url === undefined ? {} : { url });
    log.info(`${name} stops`, { signal: await stopped });
    await stop();
    process.exitCode = 0;
  } catch (error) {
    log.error(error instanceof Error ? error.message : String(error));
    process.exitCode = error instanceof ConfigError ? 2 : 1;
  }
}
