import { AccessKind } from '../../../libs/ledger/ports/access-store.js';

/**
 * Routes that, where they succeed, change who may come in: by method and pattern. Setup changes are put on record with
 * their revision, by the store.
 */
export const RECORDED_ROUTES: ReadonlyMap<string, AccessKind> = new Map([
  ['POST /v1/session', 'signed-in'],
  ['DELETE /v1/session', 'signed-out'],
  ['POST /v1/people', 'account-changed'],
  ['PUT /v1/people/:name', 'account-changed'],
  ['POST /v1/people/:name/password', 'account-changed'],
  ['POST /v1/people/:name/erasure', 'account-changed'],
  ['POST /v1/stations/:station/keys', 'key-issued'],
  ['DELETE /v1/stations/:station/keys/:keyId', 'key-revoked'],
]);
