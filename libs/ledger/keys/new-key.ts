import { randomBytes, randomUUID } from 'node:crypto';
import { Clock } from '../ports/clock.js';
import { IssuedKey, KeyHolder } from '../ports/key-store.js';
import { Seal } from '../ports/seal.js';

/**
 * Makes a bearer key: 32 random bytes as base64url behind `hbk_`. Only its hash is ever stored; 256 random bits need no
 * slow hash.
 */
export function newKey(deps: { seal: Seal; clock: Clock }, principal: KeyHolder): { key: string; issued: IssuedKey } {
  const key = `hbk_${randomBytes(32).toString('base64url')}`;
  const issued = { keyId: randomUUID(), keyHash: deps.seal.sha256Hex(key), principal, issuedAt: deps.clock.now() };
  return { key, issued };
}
