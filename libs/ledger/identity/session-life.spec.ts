import { seal } from '../../evidence/seal.js';
import { memoryIdentity } from '../memory/memory-identity.js';
import { findSession } from './find-session.js';
import { NOBODYS_HASH } from './password-hash.js';
import { csrfTokenOf, newSession } from './session-life.js';

const MINUTE_MS = 60_000;
const ANN = { printedName: 'Ann Miller', roles: ['quality' as const], customer: null, disabled: false };

async function signedIn() {
  let nowMs = Date.parse('2030-01-07T08:00:00.000Z');
  const clock = { now: () => new Date(nowMs).toISOString() };
  const identity = memoryIdentity();
  await identity.people.add('ann', ANN, NOBODYS_HASH, { by: 'admin', at: clock.now() });
  const { token, session } = newSession({ seal, clock }, 'ann');
  await identity.sessions.begin(session, 1);
  return {
    ...{ token, session, identity, clock },
    find: () => findSession({ sessions: identity.sessions, clock, seal }, token),
    pass: (minutes: number) => (nowMs += minutes * MINUTE_MS),
  };
}

describe('a session', () => {
  it('is kept by the hash of its token only, with another token each time', async () => {
    const { token, session, clock } = await signedIn();
    expect(token).toMatch(/^[\w-]{43}$/);
    expect(session.tokenHash).toBe(seal.sha256Hex(token));
    expect(JSON.stringify(session)).not.toContain(token);
    expect(newSession({ seal, clock }, 'ann').token).not.toBe(token);
  });

  it('lives while it is used, and ends after an hour without use', async () => {
    const { find, pass } = await signedIn();
    for (let hour = 0; hour < 5; hour += 1) {
      pass(59);
      expect((await find())?.person.name).toBe('ann');
    }
    pass(60);
    expect(await find()).toBeUndefined();
    pass(-60);
    // It was removed, not only overlooked.
    expect(await find()).toBeUndefined();
  });

  it('ends after twelve hours however much it is used', async () => {
    const { find, pass } = await signedIn();
    for (let half = 0; half < 23; half += 1) {
      pass(30);
      expect(await find()).toBeDefined();
    }
    pass(30);
    expect(await find()).toBeUndefined();
  });

  it('writes down its use once a minute at most', async () => {
    const { find, pass, identity, session } = await signedIn();
    const seenAt = async () => (await identity.sessions.find(session.tokenHash))?.session.seenAt;
    pass(0.9);
    await find();
    expect(await seenAt()).toBe(session.seenAt);
    pass(0.1);
    await find();
    expect(await seenAt()).toBe('2030-01-07T08:01:00.000Z');
  });

  it('is known by no other token', async () => {
    const { identity, clock } = await signedIn();
    expect(await findSession({ sessions: identity.sessions, clock, seal }, 'guessed')).toBeUndefined();
  });

  it('has a token against forged requests that tells neither its own nor that of another session', () => {
    expect(csrfTokenOf('one')).toMatch(/^[\w-]{43}$/);
    expect(csrfTokenOf('one')).toBe(csrfTokenOf('one'));
    expect(csrfTokenOf('one')).not.toBe(csrfTokenOf('other'));
  });
});
