import { MakeIdentity, useIdentity } from './identity.contract.js';
import { ANN, CHANGED, HASH, MADE, OTHER_HASH, sessionOf } from './person-samples.contract.js';
import { MOST_SESSIONS } from './session-store.js';

/** What every keeper of sessions must do. */
export function describeSessionStore(name: string, make: MakeIdentity): void {
  describe(`session store: ${name}`, () => {
    const stores = useIdentity(make);
    beforeEach(() => stores().people.add('ann', ANN, HASH, MADE));

    it('finds a session by the hash of its token, with the person as they are now', async () => {
      const { sessions, people } = stores();
      expect(await sessions.begin(sessionOf('t1'), 1)).toBe(true);
      await people.revise('ann', { ...ANN, printedName: 'A. Miller' }, CHANGED);
      expect(await sessions.find('t1')).toMatchObject({
        session: sessionOf('t1'),
        person: { printedName: 'A. Miller' },
      });
      expect(await sessions.find('t2')).toBeUndefined();
    });

    it('begins none for a person who has changed since, or is not there', async () => {
      const { sessions, people } = stores();
      await people.setPassword('ann', OTHER_HASH, CHANGED);
      expect(await sessions.begin(sessionOf('t1'), 1)).toBe(false);
      expect(await sessions.begin({ ...sessionOf('t2'), person: 'nobody' }, 1)).toBe(false);
      expect([await sessions.find('t1'), await sessions.find('t2')]).toEqual([undefined, undefined]);
      expect(await sessions.begin(sessionOf('t1'), 2)).toBe(true);
    });

    it('leaves no session standing that began while the password was changed', async () => {
      const { sessions, people } = stores();
      const beginnings = Array.from({ length: 8 }, (_, n) => sessions.begin(sessionOf(`t${n}`), 1));
      await Promise.all([...beginnings, people.setPassword('ann', OTHER_HASH, CHANGED)]);
      for (let n = 0; n < 8; n += 1) expect(await sessions.find(`t${n}`)).toBeUndefined();
    });

    it('notes use, forward only, and ends what it is told to', async () => {
      const { sessions } = stores();
      await sessions.begin(sessionOf('t1'), 1);
      await sessions.begin(sessionOf('t2'), 1);
      await sessions.touch('t1', CHANGED.at);
      await sessions.touch('t1', MADE.at);
      await sessions.touch('gone', CHANGED.at);
      expect((await sessions.find('t1'))?.session).toEqual({ ...sessionOf('t1'), seenAt: CHANGED.at });
      await sessions.end('t1');
      await sessions.end('t1');
      expect(await sessions.find('t1')).toBeUndefined();
      expect(await sessions.find('t2')).toBeDefined();
    });

    it('keeps the newest of each person', async () => {
      const { sessions, people } = stores();
      await people.add('bob', ANN, HASH, MADE);
      await sessions.begin({ ...sessionOf('b1'), person: 'bob' }, 1);
      for (let n = 0; n <= MOST_SESSIONS; n += 1) {
        await sessions.begin(sessionOf(`t${n}`, new Date(Date.parse(MADE.at) + n * 1000).toISOString()), 1);
      }
      expect(await sessions.find('t0')).toBeUndefined();
      expect(await sessions.find('t1')).toBeDefined();
      expect(await sessions.find(`t${MOST_SESSIONS}`)).toBeDefined();
      expect(await sessions.find('b1')).toBeDefined();
    });
  });
}
