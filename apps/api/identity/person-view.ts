import type { AccountData } from '../../../libs/ledger/identity/account.js';
import type { Person, PersonChange } from '../../../libs/ledger/ports/person-store.js';

type AccountView = Omit<AccountData, 'customer'> & { readonly customer?: string };

/** An account as it is shown: without anything of its password. */
export type PersonView = AccountView & Pick<Person, 'name' | 'revision' | 'createdAt' | 'changedAt'>;

export type PersonChangeView = Pick<PersonChange, 'revision' | 'what' | 'by' | 'at'> & {
  readonly account: AccountView;
};

export function personView(person: Person): PersonView {
  const { name, revision, createdAt, changedAt } = person;
  return { name, ...accountView(person), revision, createdAt, changedAt };
}

export function personChangeView({ revision, what, by, at, account }: PersonChange): PersonChangeView {
  return { revision, what, by, at, account: accountView(account) };
}

function accountView({ printedName, roles, customer, disabled }: AccountData): AccountView {
  return { printedName, roles, disabled, ...(customer !== null && { customer }) };
}
