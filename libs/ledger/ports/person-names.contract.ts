import { pseudonymOf } from '../signing/pseudonym.js';
import { MakeIdentity, useIdentity } from './identity.contract.js';
import { MOST_OPENED } from './person-names.js';
import { ANN, annAtWork, CHANGED, HASH, LEAVING, MADE, OTHER_HASH } from './person-samples.contract.js';
import { PersonErased } from './person-store.js';
import { Seal } from './seal.js';

const PAGE = { limit: 10, cursor: null };
const RENAMED = { ...ANN, printedName: 'Ann "Annie" Müller \u2028' };

/** What must hold of printed names, and of erasing them, whatever keeps them. */
export function describePersonNames(name: string, make: MakeIdentity, seal: Seal): void {
  describe(`person names: ${name}`, () => {
    const stores = useIdentity(make);
    const namedNow = async (): Promise<string> => String((await stores().people.find('ann'))?.named);

    it('opens a commitment to what it is the hash of, with the salt', async () => {
      const { people, names } = stores();
      await people.add('ann', ANN, HASH, MADE);
      await people.revise('ann', RENAMED, CHANGED);
      const [opened] = await names.opened([await namedNow()]);
      const { commitment, salt, ...person } = opened ?? {};
      expect(person).toEqual({ name: 'ann', printedName: RENAMED.printedName });
      expect(salt).toMatch(/^[0-9a-f]{64}$/);
      expect(commitment).toBe(seal.sha256Hex(seal.canonical({ ...person, salt })));
    });

    it('commits anew to each printed name, and to the same one never twice alike', async () => {
      const { people, names } = stores();
      await people.add('ann', ANN, HASH, MADE);
      const first = await namedNow();
      await people.revise('ann', { ...ANN, roles: ['quality', 'approver'] }, CHANGED);
      expect(await namedNow()).toBe(first);
      await people.revise('ann', RENAMED, CHANGED);
      const second = await namedNow();
      await people.revise('ann', ANN, CHANGED);
      const third = await namedNow();
      expect(new Set([first, second, third]).size).toBe(3);
      const opened = await names.opened([third, first, second, first, 'ab'.repeat(32)]);
      expect(opened.map(({ commitment }) => commitment)).toEqual([first, second, third].sort());
      const printed = new Map(opened.map((person) => [person.commitment, person.printedName]));
      expect([first, second, third].map((one) => printed.get(one))).toEqual([
        ANN.printedName,
        RENAMED.printedName,
        ANN.printedName,
      ]);
    });

    it('opens nothing where nothing is asked, and no more than it says at once', async () => {
      const many = Array.from({ length: MOST_OPENED + 1 }, (_, n) => String(n));
      expect(await stores().names.opened([])).toEqual([]);
      await expect(stores().names.opened(many)).rejects.toThrow(RangeError);
    });

    it('erases every name of the account with its salt, and nobody else’s', async () => {
      const { people, names } = stores();
      await annAtWork(stores());
      await people.add('bob', { ...ANN, printedName: 'Bob' }, HASH, MADE);
      const first = await namedNow();
      await people.revise('ann', RENAMED, CHANGED);
      const second = await namedNow();
      await people.erase('ann', LEAVING, CHANGED);
      const gone = { name: 'ann', printedName: null, salt: null };
      expect(await names.opened([first, second])).toEqual(
        [first, second].sort().map((commitment) => ({ commitment, ...gone })),
      );
      const bob = await people.find('bob');
      expect(bob).toMatchObject({ printedName: 'Bob', disabled: false, erasedAt: null });
      expect((await names.opened([String(bob?.named)]))[0]?.printedName).toBe('Bob');
    });

    it('leaves an account that is disabled and has a pseudonym, no session and no password', async () => {
      const { people, sessions, attempts } = stores();
      await people.add('ann', ANN, OTHER_HASH, MADE);
      await annAtWork(stores());
      const erased = await people.erase('ann', LEAVING, CHANGED);
      const printedName = pseudonymOf(await namedNow());
      expect(erased).toEqual(await people.find('ann'));
      expect(erased).toMatchObject({ name: 'ann', printedName, disabled: true, erasedAt: CHANGED.at, revision: 2 });
      expect(erased?.passwordHash).not.toBe(OTHER_HASH);
      expect(await sessions.find('t1')).toBeUndefined();
      expect(await attempts.of('ann')).toBeUndefined();
      expect((await people.list(PAGE)).items).toEqual([erased]);
    });

    it('tells of the erasure in the record, which has no printed name any more', async () => {
      const { people } = stores();
      await people.add('ann', ANN, HASH, MADE);
      await people.revise('ann', RENAMED, CHANGED);
      await people.erase('ann', LEAVING, { by: 'chief', at: '2030-01-09T08:00:00.000Z' });
      const { items } = await people.changes('ann', PAGE);
      expect(items.map(({ what, by }) => `${what} ${by}`)).toEqual(['created admin', 'revised chief', 'erased chief']);
      expect(items.map(({ act }) => act)).toEqual([null, null, LEAVING]);
      expect(items.every(({ account }) => account.printedName === pseudonymOf(account.named))).toBe(true);
      expect(JSON.stringify(items)).not.toMatch(/Miller|Annie/);
    });

    it('changes nothing by erasing once more, and knows nobody that there is not', async () => {
      const { people } = stores();
      await people.add('ann', ANN, HASH, MADE);
      const once = await people.erase('ann', LEAVING, CHANGED);
      expect(await people.erase('ann', { ...LEAVING, note: 'again' }, MADE)).toEqual(once);
      expect((await people.changes('ann', PAGE)).items).toHaveLength(2);
      expect(await people.erase('bob', LEAVING, CHANGED)).toBeUndefined();
    });

    it('lets nobody have the account again', async () => {
      const { people } = stores();
      await people.add('ann', ANN, HASH, MADE);
      await people.erase('ann', LEAVING, CHANGED);
      await expect(people.revise('ann', ANN, CHANGED)).rejects.toThrow(PersonErased);
      await expect(people.setPassword('ann', OTHER_HASH, CHANGED)).rejects.toThrow(PersonErased);
      expect(await people.add('ann', ANN, HASH, CHANGED)).toBe(false);
    });
  });
}
