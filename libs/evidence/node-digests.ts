import { createPublicKey, hash, verify } from 'node:crypto';
import type { Digests } from './digests.js';

/** What stands before the 32 bytes of an Ed25519 key in a SubjectPublicKeyInfo (RFC 8410, section 4). */
const SPKI_PREFIX = Buffer.from('302a300506032b6570032100', 'hex');
const KEY_BYTES = 32;

/** Digests by node:crypto. */
export const nodeDigests: Digests = {
  // The one-shot form is about twice as fast as createHash on texts of the size of an entry.
  sha256: (content) => hash('sha256', content, 'buffer'),
  verifyEd25519(publicKey, message, signature) {
    if (publicKey.length !== KEY_BYTES) return Promise.resolve(false);
    const key = createPublicKey({ key: Buffer.concat([SPKI_PREFIX, publicKey]), format: 'der', type: 'spki' });
    return Promise.resolve(verify(null, message, key, signature));
  },
};
