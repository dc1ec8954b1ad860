import { hostname } from 'node:os';
import { FuzzRoute } from './document-routes.js';
import { FuzzAnswer, FuzzRequest } from './fuzz-request.js';

/** What any route may answer to what no route takes, beside what it says of itself. */
const OF_ANY = new Set([400, 401, 403, 404, 405, 408, 413, 414, 415, 417, 422, 429, 431]);
const PATIENCE_MS = 10_000;
const SAFE_HEADERS = [
  'x-content-type-options',
  'x-frame-options',
  'referrer-policy',
  'content-security-policy',
  'x-request-id',
];
/** What a problem never says: where it runs, what runs there, how it stores. */
const INNER = [
  /node_modules|node:internal|\bat [^ ]+ \(|\.[jt]s:\d+/,
  /\b(SELECT|INSERT INTO|UPDATE|DELETE FROM)\s+\w+/,
  /postgres|redis:|ECONN|relation "|violates |invalid input syntax|pg_/i,
  /\/tmp\/|\/home\/|\/root\/|\/work\//,
  /\[object Object\]|Cannot read prop|is not a function/,
];
/** Shorter ones are words that may stand anywhere. */
const SECRET_LENGTH = 12;

interface ProblemShape {
  readonly type?: unknown;
  readonly title?: unknown;
  readonly status?: unknown;
  readonly detail?: unknown;
  readonly instance?: unknown;
  readonly reasons?: unknown;
}

/**
 * What is wrong with an answer, in words; none, where it is as it should be.
 * @param route undefined where the request has left the one that it was made from
 */
export function answerFaults(asked: FuzzRequest, answer: FuzzAnswer, route: FuzzRoute | undefined): string[] {
  const { status, headers, elapsedMs } = answer;
  const faults: string[] = [];
  if (elapsedMs > PATIENCE_MS) faults.push(`took more than ${String(PATIENCE_MS / 1000)} s`);
  if (status >= 500 && status !== 503) faults.push(`status ${String(status)}`);
  if ((status === 503 || status === 429) && headers['retry-after'] === undefined)
    faults.push(`${String(status)} without Retry-After`);
  if (route !== undefined && !route.statuses.has(status) && !OF_ANY.has(status) && status !== 304) {
    faults.push(`status ${String(status)} is not in the document`);
  }
  for (const name of SAFE_HEADERS) if (headers[name] === undefined) faults.push(`no ${name}`);
  if (headers['x-powered-by'] !== undefined || headers['server'] !== undefined) faults.push('says what serves it');
  if (headers['set-cookie'] !== undefined && status >= 400) faults.push('sets a cookie with a problem');
  if (status >= 400) faults.push(...problemFaults(asked, answer));
  return faults;
}

function problemFaults({ method, secrets }: FuzzRequest, { status, headers, text }: FuzzAnswer): string[] {
  if (headers['content-type'] !== 'application/problem+json; charset=utf-8')
    return [`${String(status)} is no problem document`];
  if (headers['cache-control'] !== 'no-store') return [`${String(status)} may be kept by caches`];
  if (method === 'HEAD') return text === '' ? [] : ['HEAD has a body'];
  const problem = parsed(text);
  if (problem === undefined) return ['the problem is no JSON'];
  const faults: string[] = [];
  if (!/^urn:heatbook:problem:[a-z-]+$/.test(String(problem.type))) faults.push('the problem has no type');
  // Every request of the run waits for the answer to the one before it.
  if (String(problem.type).endsWith(':too-many-at-once')) faults.push('a waiting client is told not to send so many');
  if (problem.status !== status) faults.push('the problem has another status');
  for (const name of ['title', 'detail', 'instance'] as const) {
    if (typeof problem[name] !== 'string' || problem[name] === '') faults.push(`the problem has no ${name}`);
  }
  if (isLong(problem)) faults.push('the problem is long');
  for (const inner of [...INNER, new RegExp(`\\b${hostname().replace(/\W/g, '\\$&')}\\b`)]) {
    if (inner.test(text)) faults.push(`the problem tells ${String(inner)}`);
  }
  if (secrets.some((secret) => secret.length >= SECRET_LENGTH && text.includes(secret)))
    faults.push('the problem tells a secret');
  return faults;
}

/** A clearance is refused with up to a hundred reasons; everything else is said in few words. */
function isLong({ reasons = [], ...rest }: ProblemShape): boolean {
  const list = Array.isArray(reasons) ? (reasons as unknown[]) : [reasons];
  return (
    JSON.stringify(rest).length > 40_000 ||
    list.length > 100 ||
    list.some((reason) => JSON.stringify(reason).length > 2_000)
  );
}

function parsed(text: string): ProblemShape | undefined {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === 'object' && value !== null ? value : undefined;
  } catch {
    return undefined;
  }
}
