import { seal } from '../../libs/evidence/seal.js';
import { nodeDigests } from '../../libs/evidence/node-digests.js';
import { Difference } from '../../libs/ledger/recount/difference.js';
import { recountBook } from '../../libs/ledger/recount/recount-book.js';
import { RecountCounts } from '../../libs/ledger/recount/recount-counts.js';
import { RecountStore } from '../../libs/ledger/ports/recount-store.js';

/** Recounts a book and gathers what differs. */
export async function recounted(
  store: RecountStore,
): Promise<{ readonly counts: RecountCounts; readonly differences: readonly Difference[] }> {
  const differences: Difference[] = [];
  const counts = await recountBook({ store, seal, sha256: nodeDigests.sha256 }, (one) => {
    differences.push(one);
  });
  return { counts, differences };
}
