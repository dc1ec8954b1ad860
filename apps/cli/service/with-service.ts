import { ConfigError } from '../../../libs/config/config-error.js';
import { loadConfig } from '../../../libs/config/load-config.js';
import { isBrokenOff, isTimedOut, ServiceClient } from './service-client.js';
import { UnusableInput } from './unusable-input.js';

/**
 * Does something with the service at HEATBOOK_URL, and says on stderr what went wrong.
 * @param work returns the exit code
 * @returns its code; 1 where the service refuses or cannot be reached, 2 where environment, arguments or a file cannot be used
 */
export async function withService(work: (client: ServiceClient) => Promise<number>): Promise<number> {
  let url = '';
  try {
    const { client } = loadConfig();
    url = client.url;
    return await work(new ServiceClient(client.url, client.key));
  } catch (error) {
    process.stderr.write(`${errorInWords(error, url)}\n`);
    return error instanceof UnusableInput || error instanceof ConfigError ? 2 : 1;
  }
}

/** In words, with what would mend it where that is known. */
export function errorInWords(error: unknown, url: string): string {
  if (isTimedOut(error)) return `${url} did not answer in time.`;
  if (isBrokenOff(error)) {
    return `${url} cannot be reached (${reasonOf(error)}). Is Heatbook running there, and is HEATBOOK_URL right?`;
  }
  return error instanceof Error ? error.message : String(error);
}

/** fetch says only that it failed; why stands in its cause. */
function reasonOf(error: unknown): string {
  const cause = typeof error === 'object' && error !== null && 'cause' in error ? error.cause : error;
  if (typeof cause === 'object' && cause !== null && 'code' in cause) return String(cause.code);
  return cause instanceof Error ? cause.message : String(cause);
}
