import { Log } from '../../libs/ledger/ports/log.js';

/**
 * One JSON object a line on standard error, for services that are run by something that collects them.
 * @param service which of them says it
 */
export function jsonLog(service: string, write: (line: string) => void): Log {
  const line =
    (level: string) =>
    (message: string, details: Readonly<Record<string, unknown>> = {}): void => {
      write(`${JSON.stringify({ time: new Date().toISOString(), level, service, message, ...details })}\n`);
    };
  return { info: line('info'), warn: line('warn'), error: line('error') };
}
