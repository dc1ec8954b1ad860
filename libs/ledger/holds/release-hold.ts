import { BookDeps } from '../fold/book-deps.js';
import { BOOK_ENTRY_TYPES, holdEffect } from '../fold/book-effect.js';
import { HoldRecord } from './hold-record.js';
import { writeHoldEntry } from './write-hold-entry.js';
import { Signer, sign } from '../signing/signature.js';

export interface ReleaseHold {
  readonly id: string;
  readonly signer: Signer;
  /** What was found and decided. */
  readonly note: string;
}

/** Releases an open hold, with its entry in the ledger, in one commit. */
export async function releaseHold(deps: BookDeps, wish: ReleaseHold): Promise<HoldRecord | 'not-found' | 'not-open'> {
  return deps.store.exclusively(async (tx) => {
    const hold = await tx.hold(wish.id);
    if (hold === undefined) return 'not-found';
    if (hold.state !== 'open') return 'not-open';
    const at = deps.clock.now();
    const { note, signer } = wish;
    const by = signer.name;
    const signature = sign(deps.seal, signer, at, { act: 'release', hold: hold.id, note, at });
    const release = { by, at, note, signature, approved: signer.roles.includes('approver') };
    const released: HoldRecord = { ...hold, state: 'released', touched: true, release };
    const effect = holdEffect('hold-released', released);
    await writeHoldEntry(deps, tx, released, { type: BOOK_ENTRY_TYPES.holdReleased, by, at, note, effect });
    return released;
  });
}
