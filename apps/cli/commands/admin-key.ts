import { newKey } from '../../../libs/ledger/keys/new-key.js';
import { KeyHolder } from '../../../libs/ledger/ports/key-store.js';
import { House } from '../../house/open-house.js';
import { onTheBook } from './on-the-book.js';

const ADMIN: KeyHolder = { role: 'admin', name: 'admin' };

/** The key of the one admin that a new book begins with, or undefined where it has been given out before. */
export async function firstAdminKey(house: House): Promise<string | undefined> {
  const { key, issued } = newKey(house.book, ADMIN);
  return (await house.keys.add(issued, 1)) ? key : undefined;
}

/** Issues a new admin key and ends the old ones: the way back in when the first one is lost. @returns the exit code. */
export function issueAdminKey(): Promise<number> {
  return onTheBook(async (house) => {
    for (const { keyId } of await house.keys.live(ADMIN)) await house.keys.revoke(ADMIN, keyId);
    return String(await firstAdminKey(house));
  });
}
