import { Unreachable } from '../../../libs/station-client/errors.js';
import { Server } from '../../../libs/station-client/http/call-heatbook.js';
import { DEFAULT_PACE, retryPauseMs } from '../../../libs/station-client/http/retry-pause.js';
import { sendBatch, Verdict } from '../../../libs/station-client/outbox/send-batch.js';
import { setTimeout as delay } from 'node:timers/promises';
import { StationEventBody } from './map-rows.js';

/** Small enough that the service answers in a moment, and that a progress can be told. */
const BATCH = 200;
const ANSWER_MS = 60_000;
/** Failures in a row before it is given up. What was sent is known by its id when it is sent again. */
const MOST_FAILURES = 6;

/**
 * Posts events in the order in which they happened, so that no story has to be told again.
 * @param tell progress: how many were answered for; trouble: in words, while it is tried again
 * @returns what became of each, by `eventKey`
 * @throws Unreachable after several failures in a row; KeyRefused, RequestRefused
 */
export async function sendMapped(
  server: Server,
  events: readonly StationEventBody[],
  tell: { readonly progress: (done: number) => void; readonly trouble: (words: string) => void },
): Promise<ReadonlyMap<string, Verdict>> {
  const inOrder = events.toSorted((a, b) => Date.parse(a.time) - Date.parse(b.time));
  const verdicts = new Map<string, Verdict>();
  for (let from = 0; from < inOrder.length; from += BATCH) {
    const batch = inOrder.slice(from, from + BATCH);
    const answer = await insist(
      server,
      batch.map((event) => JSON.stringify(event)),
      tell.trouble,
    );
    batch.forEach((event, n) => {
      const verdict = answer[n];
      if (verdict !== undefined) verdicts.set(eventKey(event), verdict);
    });
    tell.progress(from + batch.length);
  }
  return verdicts;
}

/** Tells an event from every other. */
export function eventKey({ source, id }: Pick<StationEventBody, 'source' | 'id'>): string {
  return `${source} ${id}`;
}

async function insist(
  server: Server,
  jsons: readonly string[],
  trouble: (words: string) => void,
): Promise<readonly Verdict[]> {
  for (let failures = 1; ; failures += 1) {
    try {
      return await sendBatch(server, jsons, { timeoutMs: ANSWER_MS });
    } catch (error) {
      if (!(error instanceof Unreachable) || failures >= MOST_FAILURES) throw error;
      const pauseMs = retryPauseMs(failures, DEFAULT_PACE, error.retryAfterMs);
      trouble(`${error.message} Trying again in ${String(Math.ceil(pauseMs / 1000))} s.`);
      await delay(pauseMs);
    }
  }
}
