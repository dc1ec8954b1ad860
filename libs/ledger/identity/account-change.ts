import { AccountData } from './account.js';

/** The account alone, of whatever has it. */
export function accountOf({ printedName, roles, customer, disabled }: AccountData): AccountData {
  return { printedName, roles, customer, disabled };
}

export function isSameAccount(a: AccountData, b: AccountData): boolean {
  return a.printedName === b.printedName && isSameAccess(a, b);
}

/** Whether both may do the same. Where not, sessions that began under one must end. */
export function isSameAccess(a: AccountData, b: AccountData): boolean {
  const rolesOf = ({ roles }: AccountData): string => [...roles].sort().join(' ');
  return rolesOf(a) === rolesOf(b) && a.customer === b.customer && a.disabled === b.disabled;
}
