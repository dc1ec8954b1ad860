import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { isName } from '../../../libs/domain/subject/names.js';
import { isBrokenOff, isTimedOut, ServiceClient, ServiceRefused } from '../service/service-client.js';
import { ServiceProblem } from '../service/service-problem.js';

/** What became of a trace file. */
export type TracePut =
  | { readonly state: 'kept'; readonly words: string }
  /** It will not be taken as it is. */
  | { readonly state: 'refused'; readonly problem: Pick<ServiceProblem, 'status' | 'detail' | 'errors'> }
  /** The service cannot take anything now. */
  | { readonly state: 'later'; readonly error: unknown };

const ANSWER_MS = 60_000;

/**
 * Uploads a trace under the name of its file.
 * @param query how it is to be read, such as `unit=mV&type=K&coldJunctionC=0`; empty for degrees
 * @throws ServiceRefused where the key is not taken, and what reading the file throws
 */
export async function putTrace(client: ServiceClient, path: string, query: string): Promise<TracePut> {
  const name = basename(path).replace(/\.csv$/i, '');
  if (!isName(name)) {
    const detail = `A trace is called by its file, and "${name}" is no name: use 1 to 64 of A-Z a-z 0-9 . _ : -.`;
    return { state: 'refused', problem: { status: 422, detail, errors: [] } };
  }
  const body = await readFile(path);
  try {
    const address = `/v1/traces/${encodeURIComponent(name)}${query === '' ? '' : `?${query}`}`;
    const answer = await client.ask('PUT', address, body, { type: 'text/csv', timeoutMs: ANSWER_MS });
    return { state: 'kept', words: keptInWords(answer) };
  } catch (error) {
    if (isBrokenOff(error) || isTimedOut(error)) return { state: 'later', error };
    const problem = error instanceof ServiceRefused ? error.problem : undefined;
    if (problem === undefined || problem.status === 401 || problem.status === 403) throw error;
    if (problem.status >= 500 || problem.status === 429 || problem.status === 408) return { state: 'later', error };
    return { state: 'refused', problem };
  }
}

/** How the service understood the file: whoever wrote the logger wants to see it. */
function keptInWords({ rows, channels, notes }: Readonly<Record<string, unknown>>): string {
  const names = Array.isArray(channels) ? channels.join(', ') : '';
  const told = Array.isArray(notes) && notes.length > 0 ? `; ${notes.map(String).join('; ')}` : '';
  return `trace kept, ${String(rows)} rows, channels ${names}${told}`;
}
