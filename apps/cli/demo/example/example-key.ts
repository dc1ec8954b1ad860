import { createHash, createPrivateKey } from 'node:crypto';

/** Of the log of the example. */
export const EXAMPLE_ORIGIN = 'heatbook/example';

/** DER of a PKCS#8 Ed25519 key (RFC 8410, section 7) as far as its 32 secret bytes. */
const PKCS8_ED25519 = Buffer.from('302e020100300506032b657004220420', 'hex');

/**
 * The key that the example is signed with, as PEM. Anybody can make it from these lines, so that what it signs proves
 * nothing: it shows what a signed export looks like, and must never sign a book that is in use.
 */
export function exampleKey(): string {
  const secret = createHash('sha256').update('heatbook example key, known to everybody').digest();
  const key = createPrivateKey({ key: Buffer.concat([PKCS8_ED25519, secret]), format: 'der', type: 'pkcs8' });
  return key.export({ format: 'pem', type: 'pkcs8' }).toString();
}
