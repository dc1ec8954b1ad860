import { setTimeout as delay } from 'node:timers/promises';
import { Unreachable } from '../errors.js';
import { ClockEstimate, ClockOffset } from './clock-estimate.js';

export interface MeasureClockOptions {
  /** Such as `https://heatbook.example`. */
  readonly url: string;
  /** Questions, spread over a second: n of them leave some 1000/n ms, and the time of an answer, between the bounds. */
  readonly samples?: number;
  /** For each answer. */
  readonly timeoutMs?: number;
  /** Learns what is found. */
  readonly clock?: ClockEstimate;
}

const SAMPLES = 10;
const TIMEOUT_MS = 5_000;
const SPREAD_MS = 1_000;

/**
 * Asks Heatbook for its time, over a good second. Needs no key.
 * @throws Unreachable
 */
export async function measureClock(options: MeasureClockOptions): Promise<ClockOffset> {
  const { url, samples = SAMPLES, timeoutMs = TIMEOUT_MS, clock = new ClockEstimate() } = options;
  for (let n = 0; n < samples; n += 1) {
    if (n > 0) await delay(SPREAD_MS / samples);
    const sentAtMs = Date.now();
    const signal = AbortSignal.timeout(timeoutMs);
    const answer = await fetch(new URL('health/live', url.endsWith('/') ? url : `${url}/`), { signal }).catch(
      (cause: unknown) => {
        throw new Unreachable(`${url} does not tell its time: ${String(cause)}.`, undefined, undefined, { cause });
      },
    );
    clock.add({ sentAtMs, receivedAtMs: Date.now(), date: answer.headers.get('date') });
    await answer.arrayBuffer();
  }
  const offset = clock.offset();
  if (offset === undefined) throw new Unreachable(`${url} sends no Date with its answers.`);
  return offset;
}
