import type { Schemas } from '../api/client.js';

export type WhatIf = Schemas['WhatIf'];
export type Moved = WhatIf['newlyInBreach']['items'][number];

/** What would become of subjects that would stand otherwise, counted. */
export interface Sums {
  /** Would get a hold. */
  readonly held: number;
  /** Would call for a hold, and have one for this kind of limit already. */
  readonly heldAlready: number;
  readonly warned: number;
  /** Have an open hold for this kind of limit, and would call for none. */
  readonly lifted: number;
  /** Would stand better otherwise. */
  readonly eased: number;
}

export interface CustomerSums extends Sums {
  readonly customer: string;
}

type Fate = keyof Sums;

const NONE: Sums = { held: 0, heldAlready: 0, warned: 0, lifted: 0, eased: 0 };

/** What would become of a subject that would stand worse. */
function fateOfWorse({ then, hold }: Moved): Fate {
  if (then.breach !== 'hold') return 'warned';
  return hold === null ? 'held' : 'heldAlready';
}

/** What would become of a subject that would stand better. */
function fateOfBetter({ then, hold }: Moved): Fate {
  return hold !== null && then.breach !== 'hold' ? 'lifted' : 'eased';
}

/**
 * Of the subjects that the answer shows (the first 500 of either list) how many would be held, warned of and so on, by customer,
 * the one with most holds first.
 * @param customerOf whose an assembly is; loose devices are nobody's
 */
export function sumsByCustomer(
  { newlyInBreach, noLongerInBreach }: WhatIf,
  customerOf: (assembly: string) => string,
): readonly CustomerSums[] {
  const sums = new Map<string, Sums>();
  const count = (moved: Moved, fate: Fate) => {
    const customer = moved.unit === null ? 'Loose devices' : customerOf(moved.unit.assembly);
    const before = sums.get(customer) ?? NONE;
    sums.set(customer, { ...before, [fate]: before[fate] + 1 });
  };
  for (const moved of newlyInBreach.items) count(moved, fateOfWorse(moved));
  for (const moved of noLongerInBreach.items) count(moved, fateOfBetter(moved));
  return [...sums]
    .map(([customer, own]) => ({ customer, ...own }))
    .toSorted((a, b) => b.held - a.held || (a.customer < b.customer ? -1 : 1));
}

/** All of them together. */
export function sumOf(rows: readonly Sums[]): Sums {
  return rows.reduce<Sums>(
    (sum, row) => ({
      held: sum.held + row.held,
      heldAlready: sum.heldAlready + row.heldAlready,
      warned: sum.warned + row.warned,
      lifted: sum.lifted + row.lifted,
      eased: sum.eased + row.eased,
    }),
    NONE,
  );
}

/** Whether the answer shows everything that it counted, so that its sums are those of the whole house. */
export function showsAll({ newlyInBreach, noLongerInBreach }: WhatIf): boolean {
  return [newlyInBreach, noLongerInBreach].every(({ total, items }) => items.length === total);
}
