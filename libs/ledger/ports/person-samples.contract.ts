import { AccountData } from '../identity/account.js';
import { NOBODYS_HASH } from '../identity/password-hash.js';
import { IdentityStores } from './identity-stores.js';
import { ErasureAct } from './person-store.js';
import { Session } from './session-store.js';

export const ANN: AccountData = { printedName: 'Ann Miller', roles: ['quality'], customer: null, disabled: false };
export const HASH = NOBODYS_HASH;
export const OTHER_HASH = NOBODYS_HASH.replace(/A$/, 'E');
export const MADE = { by: 'admin', at: '2030-01-07T08:00:00.000Z' };
export const CHANGED = { by: 'chief', at: '2030-01-08T09:30:00.000Z' };

/** Why Ann's name is erased, and who signed for it. */
export const LEAVING: ErasureAct = {
  note: 'asked for by the person, who left',
  signed: { act: 'erase-person', person: 'ann', by: 'chief', named: 'c1', at: CHANGED.at, meaning: 'checked' },
  signature: { by: 'chief', named: 'c1', at: CHANGED.at, meaning: 'checked', contentHash: 'ab' },
};

/** A session of Ann's. */
export function sessionOf(tokenHash: string, startedAt = MADE.at): Session {
  return { tokenHash, person: 'ann', startedAt, seenAt: startedAt };
}

/** Ann, with one session and two wrong passwords behind her. */
export async function annAtWork({ people, sessions, attempts }: IdentityStores): Promise<void> {
  await people.add('ann', ANN, HASH, MADE);
  await sessions.begin(sessionOf('t1'), 1);
  await attempts.inTurn('ann', () => Promise.resolve({ keep: { failures: 2, lastAt: MADE.at }, result: undefined }));
}
