import { randomUUID } from 'node:crypto';
import { ClearanceRequest, readRequest, RequestFlags, wholeSeconds } from '../clear/read-request.js';
import { grantInWords, refusalInWords } from '../clear/clearance-in-words.js';
import { isBrokenOff, isTimedOut, ServiceClient, ServiceRefused } from '../service/service-client.js';
import { UnusableInput } from '../service/unusable-input.js';
import { withService } from '../service/with-service.js';

export interface ClearOptions extends RequestFlags {
  /** Seconds, as it was typed. */
  readonly timeout: string;
  /** Names the request, so that asking it again is answered as it was the first time. */
  readonly requestKey?: string;
  /** Id of a clearance to give back, in place of asking for one. */
  readonly giveBack?: string;
  readonly json?: boolean;
}

const REFUSED = 3;

/**
 * Asks for a clearance, or gives one back.
 * @returns the exit code: 0 granted or given back, 1 no answer that says so, 2 the request cannot be used, 3 refused
 */
export function clear(options: ClearOptions): Promise<number> {
  return withService((client) => (options.giveBack === undefined ? ask(client, options) : giveBack(client, options)));
}

async function ask(client: ServiceClient, options: ClearOptions): Promise<number> {
  const { timeout, requestKey = randomUUID(), json = false } = options;
  const request = await readRequest(options);
  const timeoutMs = 1_000 * wholeSeconds('--timeout', timeout);
  try {
    const asking = { timeoutMs, headers: { 'idempotency-key': requestKey } };
    const clearance = await client.ask('POST', '/v1/clearances', request.body, asking);
    tell(json ? [JSON.stringify(clearance, null, 2)] : grantInWords(clearance));
    return 0;
  } catch (error) {
    if (isTimedOut(error) || isBrokenOff(error)) process.stderr.write(`${unanswered(requestKey)}\n`);
    if (!(error instanceof ServiceRefused) || error.problem === undefined) throw error;
    const { code, status, document } = error.problem;
    if (code === 'clearance-refused') {
      tell(json ? [JSON.stringify(document, null, 2)] : refusalInWords(document));
      return REFUSED;
    }
    if (status === 422) throw new UnusableInput(unfitInWords(error, request), { cause: error });
    throw error;
  }
}

/** Without an answer nobody knows whether it was granted; the same key finds out. */
function unanswered(requestKey: string): string {
  return (
    'No answer came: do not heat. It may have been granted all the same; to learn whether, ask the same again with\n' +
    `  --request-key ${requestKey}`
  );
}

function unfitInWords({ message, problem }: ServiceRefused, { at }: ClearanceRequest): string {
  const errors = problem?.errors ?? [];
  if (errors.length === 0) return message;
  return errors
    .map(({ pointer, detail }) => {
      const place = at(pointer);
      return `${place === undefined ? '' : `${place}: `}${pointer === '' ? 'the request' : pointer} ${detail}`;
    })
    .join('\n');
}

async function giveBack(
  client: ServiceClient,
  { giveBack: id = '', timeout, json = false }: ClearOptions,
): Promise<number> {
  const path = `/v1/clearances/${encodeURIComponent(id)}`;
  await client.ask('DELETE', path, undefined, { timeoutMs: 1_000 * wholeSeconds('--timeout', timeout) });
  const clearance = json ? await client.ask('GET', path) : undefined;
  tell([clearance === undefined ? `${id} holds nothing back any more` : JSON.stringify(clearance, null, 2)]);
  return 0;
}

function tell(lines: readonly string[]): void {
  process.stdout.write(`${lines.join('\n')}\n`);
}
