import { AccountData } from '../identity/account.js';
import { afterFailure, countedAs } from '../identity/back-off.js';
import { MakeIdentity, useIdentity } from './identity.contract.js';
import { ANN, annAtWork, CHANGED, HASH, MADE, OTHER_HASH } from './person-samples.contract.js';

const PAGE = { limit: 10, cursor: null };

/** What every keeper of accounts must do. */
export function describePersonStore(name: string, make: MakeIdentity): void {
  describe(`person store: ${name}`, () => {
    const stores = useIdentity(make);

    it('keeps an account under a name that is not taken', async () => {
      const { people } = stores();
      expect(await people.add('ann', ANN, HASH, MADE)).toBe(true);
      expect(await people.add('ann', { ...ANN, roles: ['admin'] }, OTHER_HASH, CHANGED)).toBe(false);
      expect(await people.find('ann')).toEqual({
        ...{ name: 'ann', ...ANN, passwordHash: HASH, revision: 1, createdAt: MADE.at, changedAt: MADE.at },
        ...{ named: expect.stringMatching(/^[0-9a-f]{64}$/) as string, erasedAt: null },
      });
      expect(await people.find('Ann')).toBeUndefined();
    });

    it('keeps one of two that come at once', async () => {
      const { people } = stores();
      const added = await Promise.all([1, 2, 3, 4].map(() => people.add('ann', ANN, HASH, MADE)));
      expect(added.filter(Boolean)).toHaveLength(1);
      expect((await people.changes('ann', PAGE)).items).toHaveLength(1);
    });

    it('lists accounts by name, page by page', async () => {
      const { people } = stores();
      for (const each of ['cid', 'ann', 'Bob']) await people.add(each, ANN, HASH, MADE);
      const first = await people.list({ limit: 2, cursor: null });
      const second = await people.list({ limit: 2, cursor: first.next });
      expect([first, second].map(({ items }) => items.map((person) => person.name))).toEqual([['Bob', 'ann'], ['cid']]);
      expect(second.next).toBeNull();
      await expect(people.list({ limit: 2, cursor: 'made up' })).rejects.toThrow(RangeError);
    });

    it('records every change with who and when, and nothing of a password', async () => {
      const { people } = stores();
      await people.add('ann', ANN, HASH, MADE);
      const away: AccountData = { ...ANN, disabled: true };
      expect(await people.revise('ann', away, CHANGED)).toMatchObject({ ...away, revision: 2, changedAt: CHANGED.at });
      expect(await people.revise('ann', away, CHANGED)).toMatchObject({ revision: 2 });
      expect(await people.setPassword('ann', OTHER_HASH, CHANGED)).toBe(true);
      const { items } = await people.changes('ann', PAGE);
      const known = { named: (await people.find('ann'))?.named, erasedAt: null };
      const change = (revision: number, what: string, account: AccountData): object => {
        return { person: 'ann', revision, what, account: { ...account, ...known }, act: null };
      };
      expect(items).toEqual([
        { ...change(1, 'created', ANN), ...MADE },
        { ...change(2, 'revised', away), ...CHANGED },
        { ...change(3, 'password-changed', away), ...CHANGED },
      ]);
      expect(JSON.stringify(items)).not.toContain('argon2');
      expect(await people.find('ann')).toMatchObject({ passwordHash: OTHER_HASH, createdAt: MADE.at });
    });

    it('gives changes page by page, each person’s own', async () => {
      const { people } = stores();
      for (const each of ['ann', 'bob']) await people.add(each, ANN, HASH, MADE);
      for (let time = 0; time < 11; time += 1) await people.setPassword('ann', HASH, CHANGED);
      const first = await people.changes('ann', { limit: 10, cursor: null });
      const second = await people.changes('ann', { limit: 10, cursor: first.next });
      expect([...first.items, ...second.items].map(({ revision }) => revision)).toEqual(
        Array.from({ length: 12 }, (_, n) => n + 1),
      );
      expect(second.next).toBeNull();
      expect((await people.changes('bob', PAGE)).items).toHaveLength(1);
      await expect(people.changes('ann', { limit: 2, cursor: 'made up' })).rejects.toThrow(RangeError);
    });

    it('changes nobody who is not there', async () => {
      const { people } = stores();
      expect(await people.revise('ann', ANN, CHANGED)).toBeUndefined();
      expect(await people.setPassword('ann', HASH, CHANGED)).toBe(false);
      expect((await people.changes('ann', PAGE)).items).toEqual([]);
    });

    it.each<[string, AccountData]>([
      ['other roles', { ...ANN, roles: ['quality', 'approver'] }],
      ['another house', { ...ANN, roles: ['customer'], customer: 'Thimblewick' }],
      ['disabling', { ...ANN, disabled: true }],
    ])('ends sessions with %s', async (_what, account) => {
      await annAtWork(stores());
      await stores().people.revise('ann', account, CHANGED);
      expect(await stores().sessions.find('t1')).toBeUndefined();
    });

    it('ends no session for another printed name', async () => {
      await annAtWork(stores());
      await stores().people.revise('ann', { ...ANN, printedName: 'Ann Miller-Smith' }, CHANGED);
      expect((await stores().sessions.find('t1'))?.person.printedName).toBe('Ann Miller-Smith');
    });

    it('ends sessions and forgets failures with a new password, of that person alone', async () => {
      const { people, sessions, attempts } = stores();
      await annAtWork(stores());
      await people.add('bob', ANN, HASH, MADE);
      await people.setPassword('bob', OTHER_HASH, CHANGED);
      expect(await sessions.find('t1')).toBeDefined();
      expect(await attempts.of('ann')).toBeDefined();
      const atTheDesk = countedAs('ann', 'desk');
      await attempts.inTurn(atTheDesk, () => Promise.resolve({ keep: afterFailure(undefined, MADE.at), result: 0 }));
      await people.setPassword('ann', OTHER_HASH, CHANGED);
      expect(await sessions.find('t1')).toBeUndefined();
      expect(await attempts.of('ann')).toBeUndefined();
      expect(await attempts.of(atTheDesk)).toBeUndefined();
    });
  });
}
