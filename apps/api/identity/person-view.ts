import type { Person, PersonChange } from '../../../libs/ledger/ports/person-store.js';

interface AccountView extends Pick<Person, 'printedName' | 'roles' | 'disabled'> {
  readonly customer?: string;
  /** The printed name was erased, and is a pseudonym. */
  readonly erased?: true;
}

/** An account as it is shown: without anything of its password. */
export type PersonView = AccountView & Pick<Person, 'name' | 'revision' | 'createdAt' | 'changedAt'>;

export type PersonChangeView = Pick<PersonChange, 'revision' | 'what' | 'by' | 'at'> & {
  readonly account: AccountView;
  /** Why the name was erased, and who signed for it. */
  readonly act?: PersonChange['act'];
};

export function personView(person: Person): PersonView {
  const { name, revision, createdAt, changedAt } = person;
  return { name, ...accountView(person, person.erasedAt !== null), revision, createdAt, changedAt };
}

/** @param isErased whether the name has been erased by now, whatever it was when this changed */
export function personChangeView(
  { revision, what, by, at, account, act }: PersonChange,
  isErased: boolean,
): PersonChangeView {
  return { revision, what, by, at, account: accountView(account, isErased), ...(act !== null && { act }) };
}

function accountView(
  { printedName, roles, customer, disabled }: PersonChange['account'],
  isErased: boolean,
): AccountView {
  return { printedName, ...(isErased && { erased: true }), roles, disabled, ...(customer !== null && { customer }) };
}
