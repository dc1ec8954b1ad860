import { Role, ROLES } from './principal.js';

/** What a person may be. A station is no person: it has keys. */
export const PERSON_ROLES = ROLES.filter((role) => role !== 'station');

/** The account that a new book begins with, by which whoever is at the machine comes in again: no person's own. */
export const ADMIN_ACCOUNT = 'admin';

/** What an admin says of a person. */
export interface AccountData {
  /** As it is to be read in print, beside signatures. */
  readonly printedName: string;
  /** At least one, none twice, never `station`. */
  readonly roles: readonly Role[];
  /** Whose assemblies a person with role customer may see; null for everyone else. */
  readonly customer: string | null;
  /** Signs in no more. The account stays, since ledgers name it. */
  readonly disabled: boolean;
}

/** Something about an account that cannot be, and how it can. */
export interface AccountFault {
  readonly field: 'roles' | 'customer';
  readonly detail: string;
}

/** What is wrong with the roles of an account, if anything is. */
export function accountFault({ roles, customer }: Pick<AccountData, 'roles' | 'customer'>): AccountFault | undefined {
  if (roles.length === 0) return { field: 'roles', detail: 'must name at least one role' };
  if (new Set(roles).size < roles.length) return { field: 'roles', detail: 'must not name a role twice' };
  if (roles.includes('station')) return { field: 'roles', detail: 'must not name station: stations have keys' };
  if (!roles.includes('customer')) {
    return customer === null ? undefined : { field: 'customer', detail: 'must be left out without the role customer' };
  }
  // Somebody of the house who was confined to one customer would be neither.
  if (roles.length > 1) return { field: 'roles', detail: 'must not name another role beside customer' };
  if (customer === null) return { field: 'customer', detail: 'must say whose assemblies the customer may see' };
  return undefined;
}
