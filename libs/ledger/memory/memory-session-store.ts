import { Person } from '../ports/person-store.js';
import { MOST_SESSIONS, Session, SessionStore } from '../ports/session-store.js';
import { IdentityTables } from './identity-tables.js';
import { roundTrip } from './round-trip.js';

/** Sessions in the memory of this process. */
export class MemorySessionStore implements SessionStore {
  readonly #tables: IdentityTables;

  constructor(tables: IdentityTables) {
    this.#tables = tables;
  }

  async begin(session: Session, revision: number): Promise<boolean> {
    await roundTrip();
    if (this.#tables.person(session.person)?.revision !== revision) return false;
    this.#tables.sessions.set(session.tokenHash, JSON.stringify(session));
    const own = this.#all().filter((known) => known.person === session.person);
    const newestFirst = own.sort((a, b) => Date.parse(b.startedAt) - Date.parse(a.startedAt));
    for (const { tokenHash } of newestFirst.slice(MOST_SESSIONS)) this.#tables.sessions.delete(tokenHash);
    return true;
  }

  async find(tokenHash: string): Promise<{ session: Session; person: Person } | undefined> {
    await roundTrip();
    const session = this.#all().find((known) => known.tokenHash === tokenHash);
    const person = session && this.#tables.person(session.person);
    return session && person ? { session, person } : undefined;
  }

  async touch(tokenHash: string, at: string): Promise<void> {
    await roundTrip();
    const session = this.#all().find((known) => known.tokenHash === tokenHash);
    if (session === undefined || Date.parse(session.seenAt) >= Date.parse(at)) return;
    this.#tables.sessions.set(tokenHash, JSON.stringify({ ...session, seenAt: at }));
  }

  async end(tokenHash: string): Promise<void> {
    await roundTrip();
    this.#tables.sessions.delete(tokenHash);
  }

  #all(): Session[] {
    return [...this.#tables.sessions.values()].map((text) => JSON.parse(text) as Session);
  }
}
