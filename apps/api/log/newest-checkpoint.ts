import { StoredCheckpoint } from '../../../libs/ledger/ports/log-store.js';
import { ApiDeps } from '../api-deps.js';
import { ProblemError } from '../http/problem.js';

/** @throws ProblemError not-found where nothing was signed yet */
export async function newestCheckpoint({ siteLog }: Pick<ApiDeps, 'siteLog'>): Promise<StoredCheckpoint> {
  const checkpoint = await siteLog.checkpoint();
  if (checkpoint !== undefined) return checkpoint;
  throw new ProblemError(
    'not-found',
    'The log has no signed checkpoint yet. It gets one within seconds where a worker has a signing key; ask again.',
  );
}

/**
 * A size that the newest checkpoint covers: it itself, or the one that is asked for.
 * @throws ProblemError not-found where it has not come to that
 */
export async function coveredSize(deps: Pick<ApiDeps, 'siteLog'>, asked: number | undefined): Promise<number> {
  const { size } = await newestCheckpoint(deps);
  if (asked === undefined) return size;
  if (asked <= size) return asked;
  throw new ProblemError('not-found', `The newest checkpoint is over ${size} entries: ask for a size up to that.`);
}
