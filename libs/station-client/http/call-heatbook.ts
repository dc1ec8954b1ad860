import { KeyRefused, Problem, RequestRefused, Unreachable } from '../errors.js';
import { ClockEstimate } from '../clock/clock-estimate.js';

/** Where Heatbook is, and as whom to ask. */
export interface Server {
  /** Such as `https://heatbook.example`. */
  readonly url: string;
  /** A bearer key, or what gives the one that is valid now: it is asked before every request. */
  readonly key: string | (() => string | Promise<string>);
}

export interface Call {
  readonly method: 'GET' | 'POST' | 'DELETE';
  readonly path: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string;
  /** For the whole answer. */
  readonly timeoutMs: number;
  readonly signal?: AbortSignal;
  /** Learns from the clock of the answer. */
  readonly clock?: ClockEstimate;
}

export interface Answer {
  readonly status: number;
  /** Parsed; undefined where there is no JSON. */
  readonly body: unknown;
}

/** Longer than any pause that Heatbook asks for. */
const LONGEST_PAUSE_MS = 10 * 60_000;

/**
 * Asks Heatbook once.
 * @returns an answer with a status from 200 to 299
 * @throws KeyRefused, RequestRefused; Unreachable where the same request may succeed later
 */
export async function callHeatbook(server: Server, call: Call): Promise<Answer> {
  const { method, path, body, timeoutMs, signal, clock } = call;
  const key = typeof server.key === 'string' ? server.key : await server.key();
  const abort = new AbortController();
  const stop = (): void => {
    abort.abort();
  };
  // Not AbortSignal.any: in some versions of Node what it makes stays with a signal that lives as long as the process.
  signal?.addEventListener('abort', stop, { once: true });
  const timer = setTimeout(stop, timeoutMs);
  const url = new URL(path, server.url.endsWith('/') ? server.url : `${server.url}/`);
  let response: Response;
  let text: string;
  try {
    const sentAtMs = Date.now();
    response = await fetch(url, {
      method,
      headers: { accept: 'application/json', authorization: `Bearer ${key}`, ...call.headers },
      signal: abort.signal,
      // A POST that is sent on would come as a GET.
      redirect: 'manual',
      ...(body !== undefined && { body }),
    });
    clock?.add({ sentAtMs, receivedAtMs: Date.now(), date: response.headers.get('date') });
    text = await response.text();
  } catch (cause) {
    const why = abort.signal.aborted ? `no answer within ${String(timeoutMs)} ms` : reasonOf(cause);
    throw new Unreachable(`${server.url} does not answer: ${why}.`, undefined, undefined, { cause });
  } finally {
    clearTimeout(timer);
    signal?.removeEventListener('abort', stop);
  }
  const answer = { status: response.status, body: parsed(text) };
  if (response.ok) return answer;
  throw troubleOf(server, answer, response.headers);
}

function troubleOf(server: Server, { status, body }: Answer, headers: Headers): Error {
  const problem = problemOf(body);
  const detail = problem?.detail ?? 'it does not say why';
  if (status === 401 || status === 403) return new KeyRefused(status, detail);
  const isFinal = status >= 400 && status < 500 && status !== 408 && status !== 429;
  // A proxy may have its own bound for bodies; any other refusal that is not Heatbook's own may be over with the next attempt.
  if (isFinal && (problem !== undefined || status === 413)) return new RequestRefused(status, problem);
  const words =
    problem !== undefined || status >= 500
      ? `${server.url} answers ${String(status)}: ${detail}.`
      : `${server.url} answers ${String(status)}, which is no answer of Heatbook: is the address right?`;
  return new Unreachable(words, pauseOf(headers), status);
}

function problemOf(body: unknown): Problem | undefined {
  const { type } = (body ?? {}) as { type?: unknown };
  return typeof type === 'string' && type.startsWith('urn:heatbook:problem:') ? (body as Problem) : undefined;
}

/** RFC 9110, 10.2.3: seconds, or a date by the clock of the server. */
function pauseOf(headers: Headers): number | undefined {
  const text = headers.get('retry-after');
  if (text === null) return undefined;
  const serverNowMs = Date.parse(headers.get('date') ?? '') || Date.now();
  const ms = /^\d+$/.test(text) ? Number(text) * 1000 : Date.parse(text) - serverNowMs;
  return Number.isNaN(ms) ? undefined : Math.min(Math.max(0, ms), LONGEST_PAUSE_MS);
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/** `fetch failed` says nothing; what it was is the cause. */
function reasonOf(error: unknown): string {
  const cause = error instanceof Error && error.cause !== undefined ? error.cause : error;
  return cause instanceof Error && cause.message !== '' ? cause.message : String(cause);
}
