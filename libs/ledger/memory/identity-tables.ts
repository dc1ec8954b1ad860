import { AuditPerson } from '../audits/audit-source.js';
import { Attempts } from '../identity/back-off.js';
import { Person } from '../ports/person-store.js';
import { pseudonymOf } from '../signing/pseudonym.js';

/** What is kept of people. Values are kept as JSON text, so that nobody shares them. */
export class IdentityTables {
  /** Name to JSON of the person, without the printed name. */
  readonly people = new Map<string, string>();
  /** Commitment to JSON of what it opens to. */
  readonly names = new Map<string, string>();
  /** JSON of every change of any person, in order, without printed names. */
  readonly changes: string[] = [];
  /** Token hash to JSON of the session. */
  readonly sessions = new Map<string, string>();
  readonly attempts = new Map<string, Attempts>();

  person(name: string): Person | undefined {
    const text = this.people.get(name);
    if (text === undefined) return undefined;
    const person = JSON.parse(text) as Person;
    return { ...person, printedName: this.printedName(person.named) };
  }

  /** What a commitment opens to, or the pseudonym where the name was erased. */
  printedName(commitment: string): string {
    const text = this.names.get(commitment);
    const kept = text === undefined ? null : (JSON.parse(text) as AuditPerson).printedName;
    return kept ?? pseudonymOf(commitment);
  }
}
