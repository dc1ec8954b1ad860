import { BookDeps } from './book-deps.js';
import { foldShards } from './fold-shards.js';

/** Pauses until others have told what they have claimed; after that many the events are folded, though something may come late. */
export const MOST_PAUSES = 40;
export const PAUSE_MS = 5;

/**
 * Folds the due events of a shard until none is left.
 * @returns how many events were taken from the inbox, or `busy` where another worker has the shard.
 */
export async function foldShard(deps: BookDeps, shard: number): Promise<number | 'busy'> {
  let folded = 0;
  for (let pauses = 0; ;) {
    const step = await foldShards(deps, [shard], { patient: pauses < MOST_PAUSES });
    if (step === 'busy') return folded > 0 ? folded : 'busy';
    if (step.claimed === 0) return folded;
    folded += step.folded;
    if (step.folded > 0) pauses = 0;
    else {
      pauses += 1;
      await new Promise((resolve) => setTimeout(resolve, PAUSE_MS));
    }
  }
}
