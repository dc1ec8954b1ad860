import { AttemptStore } from './attempt-store.js';
import { PersonNames } from './person-names.js';
import { PersonStore } from './person-store.js';
import { SessionStore } from './session-store.js';

/** Everything that is kept of people. The stores share their data: a new password ends sessions and failures. */
export interface IdentityStores {
  readonly people: PersonStore;
  readonly names: PersonNames;
  readonly sessions: SessionStore;
  readonly attempts: AttemptStore;
}
