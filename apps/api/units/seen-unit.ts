import { Principal } from '../../../libs/ledger/identity/principal.js';
import { UnitView } from '../../../libs/ledger/views/unit-view.js';
import { isCustomer } from '../access/reads-for.js';

/** A unit as its reader may see it. */
export type SeenUnit = UnitView & {
  /** Only for a customer: that this is not all that the house has. */
  readonly view?: { readonly for: 'customer'; readonly leftOut: readonly string[] };
};

const LEFT_OUT: readonly string[] = [
  'how the house works on holds: comments, who is to close them, and until when',
  'the ledgers of devices, which tell of other boards too: what was done to a device here stands in the ledger of this unit',
  'holds on devices aboard that came to light on units of others',
];

export function seenUnit(view: UnitView, caller: Principal): SeenUnit {
  return isCustomer(caller) ? { ...view, view: { for: 'customer', leftOut: LEFT_OUT } } : view;
}
