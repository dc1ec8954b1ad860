import type { HoldRecord } from '../../../libs/ledger/holds/hold-record.js';
import { hasRole, type Principal } from '../../../libs/ledger/identity/principal.js';
import type { HoldSummary } from '../../../libs/ledger/ports/read-store.js';
import { type DeskEye, type DeskHoldView, deskHoldView } from '../../../libs/ledger/views/desk-hold-view.js';
import { type HoldView, holdView } from '../../../libs/ledger/views/hold-view.js';

/** A hold as its reader may see it: customers see nothing of how the house works on it. */
export type SeenHold = HoldView | DeskHoldView;

export function seenHold(hold: HoldRecord, eye: DeskEye): SeenHold {
  return isOfTheHouse(eye.caller) ? deskHoldView(hold, eye) : holdView(hold);
}

export function seenSummary(summary: HoldSummary, caller: Principal): HoldSummary {
  return isOfTheHouse(caller) ? summary : { ...summary, byAssignee: {}, overdue: 0 };
}

export function isOfTheHouse(caller: Principal): boolean {
  return !hasRole(caller, 'customer');
}
