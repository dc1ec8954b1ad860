import { ArchiveStore } from '../ports/archive-store.js';
import { Clock } from '../ports/clock.js';

/** Chunks of about a mebibyte that are given back by one statement. */
const CHUNKS_AT_ONCE = 200;

/** Removes archives that have expired, and gives back the space of those that nobody will fetch. */
export async function sweepArchives(
  { archives, clock }: { readonly archives: Pick<ArchiveStore, 'removeExpired' | 'clear'>; readonly clock: Clock },
  stopped: () => boolean,
): Promise<void> {
  await archives.removeExpired(clock.now());
  while (!stopped() && (await archives.clear(CHUNKS_AT_ONCE)) > 0);
}
