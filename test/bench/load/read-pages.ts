import { SHOP } from '../../support/small-shop.js';

/** Whose the boards of the shop are. */
export const CUSTOMER = 'Thimblewick';

/** A page of the desk, as the path that it asks for about a unit; for the house unless it is a customer's. */
export interface ReadPage {
  readonly name: string;
  readonly path: (serial: string, turn: number) => string;
  readonly by?: 'house' | 'customer';
  readonly hasGoal: boolean;
}

const unit = (serial: string): string => `/v1/units/${SHOP.assembly}/${serial}`;
const ledger = (serial: string): string => `${unit(serial)}/ledger?limit=100`;
const NARROWED = ['', `&station=${SHOP.bench}`, '&reason=site-reworks', `&customer=${CUSTOMER}`, '&stage=new'];
const desk = (_: string, turn: number): string =>
  `/v1/holds?state=open&order=graveness&limit=100${NARROWED[turn % NARROWED.length] ?? ''}`;
const summary = (_: string, turn: number): string =>
  `/v1/holds/summary?state=open${NARROWED[turn % NARROWED.length] ?? ''}`;

export const READ_PAGES: readonly ReadPage[] = [
  { name: 'unit', path: unit, hasGoal: true },
  { name: 'ledger', path: ledger, hasGoal: true },
  { name: 'hold-desk', path: desk, hasGoal: true },
  { name: 'hold-summary', path: summary, hasGoal: true },
  { name: 'customer-unit', path: unit, by: 'customer', hasGoal: true },
  { name: 'customer-ledger', path: ledger, by: 'customer', hasGoal: true },
  { name: 'customer-hold-desk', path: desk, by: 'customer', hasGoal: true },
  // Few, since the small book has no more of them.
  {
    name: 'hold-desk-released',
    path: () => '/v1/holds?state=released&order=graveness&limit=5',
    hasGoal: true,
  },
  // What the page of a unit asks beside, and what leads to it.
  {
    name: 'holds-of-unit',
    path: (serial) => `/v1/holds?assembly=${SHOP.assembly}&serial=${serial}&limit=500`,
    hasGoal: true,
  },
  { name: 'search', path: (serial) => `/v1/search?q=${serial}`, hasGoal: false },
];
