import { ContainDeps, runContainment } from './run-containment.js';

/** A round that nobody has begun after so long has lost its wake-up. */
const BEGIN_WITHIN_MS = 5_000;
/** A worker that has said nothing for so long is dead: it tells of every thousand units. */
const SEEN_WITHIN_MS = 60_000;

/** Carries out every round that lost its wake-up or its worker. */
export async function sweepContainments(deps: ContainDeps, stopped: () => boolean): Promise<void> {
  const nowMs = Date.parse(deps.book.clock.now());
  const before = (ms: number): string => new Date(nowMs - ms).toISOString();
  for (const id of await deps.containments.abandoned(before(BEGIN_WITHIN_MS), before(SEEN_WITHIN_MS))) {
    if (stopped()) return;
    await runContainment(deps, id);
  }
}
