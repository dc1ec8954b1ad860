import { randomUUID } from 'node:crypto';
import { setTimeout as delay } from 'node:timers/promises';
import { Problem, RequestRefused, Unreachable } from '../errors.js';
import { ClockEstimate } from '../clock/clock-estimate.js';
import { callHeatbook, Server } from '../http/call-heatbook.js';
import { retryPauseMs } from '../http/retry-pause.js';
import {
  Clearance,
  ClearanceAnswer,
  ClearanceReason,
  ClearanceRequest,
  UnreachablePolicy,
} from './clearance-request.js';

export interface ClearanceOptions {
  /** For the whole of it, repetitions included; 10 s where left out. */
  readonly timeoutMs?: number;
  /** `refuse` where left out. */
  readonly whenUnreachable?: UnreachablePolicy;
  /** The same request under the same key is answered as it was the first time, for two days. Made where left out. */
  readonly idempotencyKey?: string;
  readonly clock?: ClockEstimate;
}

const TIMEOUT_MS = 10_000;
const PACE = { baseMs: 200, capMs: 2_000 };
/** Shortest wait for one answer, so that a service that is slow is not taken for one that is away. */
const PATIENCE_MS = 2_000;

/**
 * Asks for permission for planned steps. While no answer comes it asks again, under the same idempotency key, so that nothing is
 * reserved twice; when the time is up, the policy decides.
 * @throws KeyRefused; RequestRefused where the request is not one (a refused clearance is an answer)
 */
export async function requestClearance(
  server: Server,
  request: ClearanceRequest,
  options: ClearanceOptions = {},
): Promise<ClearanceAnswer> {
  const { timeoutMs = TIMEOUT_MS, whenUnreachable = 'refuse', idempotencyKey = randomUUID(), clock } = options;
  const deadline = performance.now() + timeoutMs;
  for (let failures = 1; ; failures += 1) {
    const leftMs = Math.max(1, deadline - performance.now());
    try {
      const { body } = await callHeatbook(server, {
        method: 'POST',
        path: 'v1/clearances',
        headers: { 'content-type': 'application/json', 'idempotency-key': idempotencyKey },
        body: JSON.stringify(request),
        timeoutMs: Math.ceil(Math.min(leftMs, Math.max(PATIENCE_MS, leftMs / 2))),
        ...(clock && { clock }),
      });
      return { verdict: 'granted', mayProceed: true, decidedBy: 'heatbook', clearance: granted(server, body) };
    } catch (error) {
      if (error instanceof RequestRefused && error.problem?.type === 'urn:heatbook:problem:clearance-refused') {
        return refused(error.problem);
      }
      if (!(error instanceof Unreachable)) throw error;
      const pauseMs = retryPauseMs(failures, PACE, error.retryAfterMs);
      if (performance.now() + pauseMs >= deadline) return byPolicy(whenUnreachable, error, idempotencyKey);
      await delay(pauseMs);
    }
  }
}

/**
 * Gives a clearance back, so that it holds nothing back any more. One that is over already is no error.
 * @throws KeyRefused, RequestRefused, Unreachable
 */
export async function returnClearance(server: Server, id: string, timeoutMs = TIMEOUT_MS): Promise<void> {
  await callHeatbook(server, { method: 'DELETE', path: `v1/clearances/${encodeURIComponent(id)}`, timeoutMs });
}

/** What the policy makes of an answer that did not come. */
export function byPolicy(policy: UnreachablePolicy, error: Unreachable, idempotencyKey: string): ClearanceAnswer {
  const mayProceed = policy === 'proceed-uncleared';
  return { verdict: 'unreachable', mayProceed, decidedBy: 'policy', policy, error, idempotencyKey };
}

function refused(problem: Problem & { readonly reasons?: readonly ClearanceReason[] }): ClearanceAnswer {
  const { reasons = [] } = problem;
  return { verdict: 'refused', mayProceed: false, decidedBy: 'heatbook', reasons, problem };
}

/** @throws Unreachable where it is no clearance */
function granted(server: Server, body: unknown): Clearance {
  const { id, state } = (body ?? {}) as Partial<Clearance>;
  if (typeof id === 'string' && state === 'granted') return body as Clearance;
  throw new Unreachable(
    `${server.url} answers without a clearance, which is no answer of Heatbook: is the address right?`,
  );
}
