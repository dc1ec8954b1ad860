import { BookDeps } from '../fold/book-deps.js';
import { DeskRefusal, isRefused } from './desk-refusal.js';
import { HoldRecord } from './hold-record.js';
import { holdVersion } from './hold-version.js';
import { HoldEntry, writeHoldEntry } from './write-hold-entry.js';

export interface HoldWish {
  readonly id: string;
  /** Refused unless the hold is still what it was when its version was this. */
  readonly ifVersion?: string;
}

/** A hold as a person changed it, with the entry that tells of it, where it is told of. */
export interface WorkedHold {
  readonly hold: HoldRecord;
  readonly entry?: HoldEntry;
}

/**
 * Changes a hold in one commit, one person at a time, so that of two at once neither is lost. `act` sees the hold as it is
 * then and the moment, RFC 3339 UTC; what it refuses changes nothing.
 */
export async function workOnHold(
  deps: BookDeps,
  { id, ifVersion }: HoldWish,
  act: (hold: HoldRecord, at: string) => WorkedHold | DeskRefusal,
): Promise<HoldRecord | DeskRefusal> {
  return deps.store.exclusively(async (tx) => {
    const hold = await tx.hold(id);
    if (hold === undefined) return unknownHold(id);
    if (ifVersion !== undefined && ifVersion !== holdVersion(deps.seal, hold)) return changed(id);
    const worked = act(hold, deps.clock.now());
    if (isRefused(worked)) return worked;
    if (worked.entry === undefined) await tx.write({ ...NOTHING_ELSE, holds: [worked.hold] });
    else await writeHoldEntry(deps, tx, worked.hold, worked.entry);
    return worked.hold;
  });
}

/** What a transaction that only changes holds writes besides. */
export const NOTHING_ELSE = { subjects: [], entries: [], done: [], parked: [], postponed: [] };

export function unknownHold(id: string): DeskRefusal {
  return { refused: 'not-found', detail: `There is no hold ${id}; GET /v1/holds lists them.` };
}

function changed(id: string): DeskRefusal {
  return {
    refused: 'hold-changed',
    detail: `Hold ${id} is no longer what If-Match names; GET it again, look at what changed, and send its new version.`,
  };
}
