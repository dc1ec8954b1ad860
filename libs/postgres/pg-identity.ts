import pg from 'pg';
import { IdentityStores } from '../ledger/ports/identity-stores.js';
import { PgAttemptStore } from './pg-attempt-store.js';
import { PgPersonNames } from './pg-person-names.js';
import { PgPersonStore } from './pg-person-store.js';
import { PgSessionStore } from './pg-session-store.js';

export function pgIdentity(pool: pg.Pool): IdentityStores {
  return {
    names: new PgPersonNames(pool),
    people: new PgPersonStore(pool),
    sessions: new PgSessionStore(pool),
    attempts: new PgAttemptStore(pool),
  };
}
