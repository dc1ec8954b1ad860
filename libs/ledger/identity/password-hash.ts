import { hash, verify } from '@node-rs/argon2';
import { normalPassword } from './password-rule.js';

/**
 * Argon2id with 19 MiB, two passes and one lane: the first choice of the OWASP Password Storage Cheat Sheet where memory
 * is shared with other work. About 15 ms of one core.
 */
const COST = { memoryCost: 19_456, timeCost: 2, parallelism: 1, outputLen: 32 };

/** The hash of no password: checking against it takes as long as against any other, and never succeeds. */
export const NOBODYS_HASH = `$argon2id$v=19$m=${COST.memoryCost},t=${COST.timeCost},p=${COST.parallelism}$${'A'.repeat(22)}$${'A'.repeat(43)}`;

/** @returns the hash in PHC form, with its salt and cost. */
export function hashPassword(password: string): Promise<string> {
  return hash(normalPassword(password), COST);
}

/** @param passwordHash as `hashPassword` gave it, perhaps at another cost */
export function isPassword(password: string, passwordHash: string): Promise<boolean> {
  return verify(passwordHash, normalPassword(password));
}
