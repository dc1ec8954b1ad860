import { IdentityStores } from '../ports/identity-stores.js';
import { IdentityTables } from './identity-tables.js';
import { MemoryAttemptStore } from './memory-attempt-store.js';
import { MemoryPersonNames } from './memory-person-names.js';
import { MemoryPersonStore } from './memory-person-store.js';
import { MemorySessionStore } from './memory-session-store.js';

/** What is kept of people, in the memory of this process, for tests. */
export function memoryIdentity(): IdentityStores {
  const tables = new IdentityTables();
  return {
    names: new MemoryPersonNames(tables),
    people: new MemoryPersonStore(tables),
    sessions: new MemorySessionStore(tables),
    attempts: new MemoryAttemptStore(tables),
  };
}
