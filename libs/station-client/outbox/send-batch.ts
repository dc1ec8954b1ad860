import { KeyRefused, Problem, Unreachable } from '../errors.js';
import { callHeatbook, Call, Server } from '../http/call-heatbook.js';

/** What became of one event. */
export type Verdict =
  { readonly state: 'accepted' | 'duplicate' } | { readonly state: 'rejected'; readonly problem: Problem };

/** Largest body that Heatbook takes, bytes. */
export const MOST_BODY_BYTES = 8 * 1024 * 1024;
/** Most events that it takes in one batch. */
export const MOST_IN_BATCH = 1000;

/**
 * Posts events as one batch.
 * @param jsons each an event as JSON
 * @returns a verdict for each, in their order
 * @throws KeyRefused, RequestRefused where the batch as a whole is turned away, Unreachable
 */
export async function sendBatch(
  server: Server,
  jsons: readonly string[],
  call: Pick<Call, 'timeoutMs' | 'signal' | 'clock'>,
): Promise<readonly Verdict[]> {
  const { status, body } = await callHeatbook(server, {
    ...call,
    method: 'POST',
    path: 'v1/events',
    headers: { 'content-type': 'application/cloudevents-batch+json' },
    body: `[${jsons.join(',')}]`,
  });
  const { items } = (body ?? {}) as { items?: unknown };
  if (status !== 202 || !Array.isArray(items) || items.length !== jsons.length || !items.every(isVerdict)) {
    throw new Unreachable(
      `${server.url} answers ${String(status)} without a verdict for each event, which is no answer of Heatbook: is the address right?`,
      undefined,
      status,
    );
  }
  return items;
}

function isVerdict(item: unknown): item is Verdict {
  const { state, problem } = (item ?? {}) as { state?: unknown; problem?: unknown };
  return state === 'accepted' || state === 'duplicate' || (state === 'rejected' && typeof problem === 'object');
}

/** Whether Heatbook turns an event away because the key is another station's: then no event of this station would fare better. */
export function foreignKey(verdict: Verdict): KeyRefused | undefined {
  if (verdict.state !== 'rejected' || verdict.problem.type !== 'urn:heatbook:problem:foreign-source') return undefined;
  return new KeyRefused(403, verdict.problem.detail ?? 'the key is that of another station.');
}
