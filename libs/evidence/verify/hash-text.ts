import { toHex } from '../../ledger/log/notes/hex.js';
import type { Digests } from '../digests.js';

/** Lower-case hex SHA-256 of the UTF-8 bytes of a text. */
export type HashText = (text: string) => string;

/** A `HashText` by these digests. */
export function hashTextWith(digests: Digests): HashText {
  return (text) => toHex(digests.sha256(text));
}
