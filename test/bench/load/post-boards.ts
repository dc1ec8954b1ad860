import { EVENTS_A_BOARD, requestsOf } from './rework-line.js';
import { sendLanes, Target } from './send-lanes.js';

/** Made and kept at once, so that a million of them needs no memory to speak of. */
const BOARDS_AT_ONCE = 5_000;

/**
 * Posts the whole work on so many boards, in batches.
 * @param series begins every serial number; a dash comes after it
 * @returns events a second that were acknowledged, the time to make them left out
 */
export async function postBoards(target: Target, series: string, boards: number): Promise<number> {
  let sentMs = 0;
  for (let first = 0; first < boards; first += BOARDS_AT_ONCE) {
    const part = requestsOf('batch', `${series}-${String(first)}`, Math.min(BOARDS_AT_ONCE, boards - first));
    sentMs += await sendLanes(target, part);
  }
  return ((boards * EVENTS_A_BOARD) / sentMs) * 1000;
}
