import { createHash, randomBytes } from 'node:crypto';

/** A printed name with what stands for it in signatures. */
export interface CommittedName {
  /** Lower-case hex SHA-256 of the canonical form (RFC 8785) of `{name, printedName, salt}`. */
  readonly commitment: string;
  /** Of the account. */
  readonly name: string;
  readonly printedName: string;
  /** Lower-case hex, 32 random bytes: without them nobody can try names until one fits. */
  readonly salt: string;
}

/** Commits to a printed name under a salt of its own, so that the same name committed to again is another commitment. */
export function commitName(name: string, printedName: string): CommittedName {
  const salt = randomBytes(32).toString('hex');
  // Three texts, in the order of their keys and escaped by JSON.stringify, have this canonical form.
  const commitment = createHash('sha256').update(JSON.stringify({ name, printedName, salt })).digest('hex');
  return { commitment, name, printedName, salt };
}
