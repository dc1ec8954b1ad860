import { AccountData, ADMIN_ACCOUNT } from '../../../libs/ledger/identity/account.js';
import { accountOf } from '../../../libs/ledger/identity/account-change.js';
import { newPassword } from '../../../libs/ledger/identity/new-password.js';
import { hashPassword } from '../../../libs/ledger/identity/password-hash.js';
import { House } from '../../house/open-house.js';
import { onTheBook } from './on-the-book.js';

/** Who changes accounts at the machine itself, on record. */
const MACHINE = 'heatbook admin-password';
const FIRST_START = 'heatbook run';

const ADMIN: AccountData = { printedName: 'Administrator', roles: ['admin'], customer: null, disabled: false };

/** The password of the account that a book begins with, or undefined where it has been given out before. */
export async function firstAdminPassword(house: House): Promise<string | undefined> {
  const { people } = house.identity;
  if ((await people.find(ADMIN_ACCOUNT)) !== undefined) return undefined;
  const password = newPassword();
  const stamp = { by: FIRST_START, at: house.book.clock.now() };
  return (await people.add(ADMIN_ACCOUNT, ADMIN, await hashPassword(password), stamp)) ? password : undefined;
}

/**
 * Gives the account `admin` a new password, and makes it an admin again where it is none any more: the way back in for
 * whoever is at the machine. @returns the exit code.
 */
export function resetAdminPassword(): Promise<number> {
  return onTheBook(async (house) => {
    const { people } = house.identity;
    const password = newPassword();
    const passwordHash = await hashPassword(password);
    const stamp = { by: MACHINE, at: house.book.clock.now() };
    if (await people.add(ADMIN_ACCOUNT, ADMIN, passwordHash, stamp)) return password;
    const person = await people.find(ADMIN_ACCOUNT);
    const lacksRole = person?.roles.includes('admin') !== true;
    if (person !== undefined && (lacksRole || person.disabled)) {
      await people.revise(ADMIN_ACCOUNT, lacksRole ? ADMIN : { ...accountOf(person), disabled: false }, stamp);
    }
    await people.setPassword(ADMIN_ACCOUNT, passwordHash, stamp);
    return password;
  });
}
