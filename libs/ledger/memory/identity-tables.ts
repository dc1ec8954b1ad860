import { Attempts } from '../identity/back-off.js';

/** What is kept of people. Values are kept as JSON text, so that nobody shares them. */
export class IdentityTables {
  /** Name to JSON of the person. */
  readonly people = new Map<string, string>();
  /** JSON of every change of any person, in order. */
  readonly changes: string[] = [];
  /** Token hash to JSON of the session. */
  readonly sessions = new Map<string, string>();
  readonly attempts = new Map<string, Attempts>();
}
