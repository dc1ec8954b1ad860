import { AccountData } from '../identity/account.js';
import { accountOf, isSameAccess, isSameAccount } from '../identity/account-change.js';
import { countedAs } from '../identity/back-off.js';
import { Person, PersonChange, PersonStore, Stamp } from '../ports/person-store.js';
import { Page, PageRequest } from '../ports/read-store.js';
import { Session } from '../ports/session-store.js';
import { IdentityTables } from './identity-tables.js';
import { keysetPage } from './keyset-page.js';
import { roundTrip } from './round-trip.js';

/** Accounts in the memory of this process. */
export class MemoryPersonStore implements PersonStore {
  readonly #tables: IdentityTables;

  constructor(tables: IdentityTables) {
    this.#tables = tables;
  }

  async add(name: string, account: AccountData, passwordHash: string, stamp: Stamp): Promise<boolean> {
    await roundTrip();
    if (this.#tables.people.has(name)) return false;
    const times = { createdAt: stamp.at, changedAt: stamp.at };
    this.#keep('created', { name, revision: 1, passwordHash, ...accountOf(account), ...times }, stamp);
    return true;
  }

  async revise(name: string, account: AccountData, stamp: Stamp): Promise<Person | undefined> {
    await roundTrip();
    const before = this.#person(name);
    if (before === undefined || isSameAccount(before, account)) return before;
    const revision = before.revision + 1;
    this.#keep('revised', { ...before, ...accountOf(account), revision, changedAt: stamp.at }, stamp);
    if (!isSameAccess(before, account)) this.#endSessions(name);
    return this.#person(name);
  }

  async setPassword(name: string, passwordHash: string, stamp: Stamp): Promise<boolean> {
    await roundTrip();
    const before = this.#person(name);
    if (before === undefined) return false;
    const revision = before.revision + 1;
    this.#keep('password-changed', { ...before, passwordHash, revision, changedAt: stamp.at }, stamp);
    this.#endSessions(name);
    for (const askedAt of ['door', 'desk'] as const) this.#tables.attempts.delete(countedAs(name, askedAt));
    return true;
  }

  async find(name: string): Promise<Person | undefined> {
    await roundTrip();
    return this.#person(name);
  }

  async list(page: PageRequest): Promise<Page<Person>> {
    await roundTrip();
    const people = [...this.#tables.people.values()].map((text) => JSON.parse(text) as Person);
    return keysetPage(people, ({ name }) => [name], page);
  }

  async changes(name: string, page: PageRequest): Promise<Page<PersonChange>> {
    await roundTrip();
    const changes = this.#tables.changes.map((text) => JSON.parse(text) as PersonChange);
    const own = changes.filter(({ person }) => person === name);
    return keysetPage(own, ({ revision }) => [String(revision).padStart(9, '0')], page);
  }

  #person(name: string): Person | undefined {
    const text = this.#tables.people.get(name);
    return text === undefined ? undefined : (JSON.parse(text) as Person);
  }

  #keep(what: PersonChange['what'], person: Person, stamp: Stamp): void {
    const { name, revision } = person;
    const change: PersonChange = { person: name, revision, what, account: accountOf(person), ...stamp };
    this.#tables.people.set(name, JSON.stringify(person));
    this.#tables.changes.push(JSON.stringify(change));
  }

  #endSessions(name: string): void {
    for (const [tokenHash, text] of this.#tables.sessions) {
      if ((JSON.parse(text) as Session).person === name) this.#tables.sessions.delete(tokenHash);
    }
  }
}
