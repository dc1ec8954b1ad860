import { BookDeps } from '../fold/book-deps.js';
import { DeskRefusal } from './desk-refusal.js';
import { DeskPerson, refuseAssignment } from './desk-rules.js';
import { HoldRecord } from './hold-record.js';
import { HoldWish, NOTHING_ELSE, unknownHold, workOnHold } from './work-on-hold.js';

/** Who is to work on holds, and by when; null for nobody, or no date. */
export interface Assignment {
  readonly assignee: string | null;
  /** RFC 3339. */
  readonly dueAt: string | null;
}

/**
 * Gives an open hold to somebody, or takes it back. It stands on the hold and in no ledger, and does not touch the hold: a
 * hold that turns out to be without cause need not be worked through because it had been planned.
 */
export async function assignHold(
  deps: BookDeps,
  wish: HoldWish,
  assignment: Assignment,
  by: DeskPerson,
): Promise<HoldRecord | DeskRefusal> {
  return workOnHold(deps, wish, (hold) => refuseAssignment(hold, by) ?? { hold: { ...hold, ...utc(assignment) } });
}

/** Gives many open holds to somebody, all of them or, where one cannot be, none. */
export async function assignHolds(
  deps: BookDeps,
  ids: readonly string[],
  assignment: Assignment,
  by: DeskPerson,
): Promise<readonly HoldRecord[] | DeskRefusal> {
  return deps.store.exclusively(async (tx) => {
    const assigned: HoldRecord[] = [];
    // In one order whatever the order asked in.
    for (const id of [...new Set(ids)].sort()) {
      const hold = await tx.hold(id);
      const refusal = hold === undefined ? unknownHold(id) : refuseAssignment(hold, by);
      if (refusal !== undefined) return refusal;
      if (hold !== undefined) assigned.push({ ...hold, ...utc(assignment) });
    }
    await tx.write({ ...NOTHING_ELSE, holds: assigned });
    return assigned;
  });
}

function utc({ assignee, dueAt }: Assignment): Assignment {
  return { assignee, dueAt: dueAt === null ? null : new Date(dueAt).toISOString() };
}
