import { Principal } from '../../../libs/ledger/identity/principal.js';
import { UNIT_LEFT_OUT } from '../../../libs/ledger/views/unit-left-out.js';
import { UnitView } from '../../../libs/ledger/views/unit-view.js';
import { isCustomer } from '../access/reads-for.js';

/** A unit as its reader may see it. */
export type SeenUnit = UnitView & {
  /** Only for a customer: that this is not all that the house has. */
  readonly view?: { readonly for: 'customer'; readonly leftOut: readonly string[] };
};

export function seenUnit(view: UnitView, caller: Principal): SeenUnit {
  return isCustomer(caller) ? { ...view, view: { for: 'customer', leftOut: UNIT_LEFT_OUT } } : view;
}
