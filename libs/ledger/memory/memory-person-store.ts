import { AuditPerson } from '../audits/audit-source.js';
import { AccountData } from '../identity/account.js';
import { accountOf, isSameAccess, isSameAccount } from '../identity/account-change.js';
import { countedAs } from '../identity/back-off.js';
import { NOBODYS_HASH } from '../identity/password-hash.js';
import { ErasureAct, Person, PersonChange, PersonErased, PersonStore, Stamp } from '../ports/person-store.js';
import { Page, PageRequest } from '../ports/read-store.js';
import { Session } from '../ports/session-store.js';
import { commitName } from '../signing/commit-name.js';
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
    const named = this.#commit(name, account.printedName);
    const rest = { createdAt: stamp.at, changedAt: stamp.at, erasedAt: null };
    this.#keep('created', { name, revision: 1, passwordHash, ...accountOf(account), named, ...rest }, stamp);
    return true;
  }

  async revise(name: string, account: AccountData, stamp: Stamp): Promise<Person | undefined> {
    await roundTrip();
    const before = this.#tables.person(name);
    refuseErased(before);
    if (before === undefined || isSameAccount(before, account)) return before;
    const isRenamed = before.printedName !== account.printedName;
    const named = isRenamed ? this.#commit(name, account.printedName) : before.named;
    const revision = before.revision + 1;
    this.#keep('revised', { ...before, ...accountOf(account), named, revision, changedAt: stamp.at }, stamp);
    if (!isSameAccess(before, account)) this.#endSessions(name);
    return this.#tables.person(name);
  }

  async setPassword(name: string, passwordHash: string, stamp: Stamp): Promise<boolean> {
    await roundTrip();
    const before = this.#tables.person(name);
    refuseErased(before);
    if (before === undefined) return false;
    const revision = before.revision + 1;
    this.#keep('password-changed', { ...before, passwordHash, revision, changedAt: stamp.at }, stamp);
    this.#endSessions(name);
    this.#forgetAttempts(name);
    return true;
  }

  async erase(name: string, act: ErasureAct, stamp: Stamp): Promise<Person | undefined> {
    await roundTrip();
    const before = this.#tables.person(name);
    if (before === undefined || before.erasedAt !== null) return before;
    for (const [commitment, text] of this.#tables.names) {
      const person = JSON.parse(text) as AuditPerson;
      if (person.name !== name) continue;
      this.#tables.names.set(commitment, JSON.stringify({ ...person, printedName: null, salt: null }));
    }
    const gone = { passwordHash: NOBODYS_HASH, disabled: true, erasedAt: stamp.at, changedAt: stamp.at };
    this.#keep('erased', { ...before, ...gone, revision: before.revision + 1 }, stamp, act);
    this.#endSessions(name);
    this.#forgetAttempts(name);
    return this.#tables.person(name);
  }

  async find(name: string): Promise<Person | undefined> {
    await roundTrip();
    return this.#tables.person(name);
  }

  async list(page: PageRequest): Promise<Page<Person>> {
    await roundTrip();
    const people = [...this.#tables.people.keys()].flatMap((name) => this.#tables.person(name) ?? []);
    return keysetPage(people, ({ name }) => [name], page);
  }

  async changes(name: string, page: PageRequest): Promise<Page<PersonChange>> {
    await roundTrip();
    const changes = this.#tables.changes.map((text) => JSON.parse(text) as PersonChange);
    const own = changes.filter(({ person }) => person === name).map((one) => this.#withName(one));
    return keysetPage(own, ({ revision }) => [String(revision).padStart(9, '0')], page);
  }

  #commit(name: string, printedName: string): string {
    const { commitment, salt } = commitName(name, printedName);
    const person: AuditPerson = { commitment, name, printedName, salt };
    this.#tables.names.set(commitment, JSON.stringify(person));
    return commitment;
  }

  #withName(change: PersonChange): PersonChange {
    const { account } = change;
    return { ...change, account: { ...account, printedName: this.#tables.printedName(account.named) } };
  }

  /** Printed names stay out of both tables: only the commitment says which it is. */
  #keep(what: PersonChange['what'], person: Person, stamp: Stamp, act: ErasureAct | null = null): void {
    const { name, revision, named, erasedAt } = person;
    const account = { ...accountOf(person), printedName: '', named, erasedAt };
    const change: PersonChange = { person: name, revision, what, account, act, ...stamp };
    this.#tables.people.set(name, JSON.stringify({ ...person, printedName: '' }));
    this.#tables.changes.push(JSON.stringify(change));
  }

  #forgetAttempts(name: string): void {
    for (const askedAt of ['door', 'desk'] as const) this.#tables.attempts.delete(countedAs(name, askedAt));
  }

  #endSessions(name: string): void {
    for (const [tokenHash, text] of this.#tables.sessions) {
      if ((JSON.parse(text) as Session).person === name) this.#tables.sessions.delete(tokenHash);
    }
  }
}

function refuseErased(person: Person | undefined): void {
  if (person?.erasedAt != null) throw new PersonErased(`the name of ${person.name} was erased`);
}
