import { createPrivateKey, createPublicKey, generateKeyPairSync, KeyObject, sign } from 'node:crypto';
import { LogSigner } from '../../ledger/log/log-signer.js';
import { formatVerifierKey } from '../../ledger/log/notes/verifier-key.js';
import { nodeDigests } from '../node-digests.js';

const HOW_TO_MAKE_ONE = 'make one with "openssl genpkey -algorithm ed25519"';

/** A new signing key: PKCS#8 PEM, Ed25519. */
export function newSigningKey(): string {
  return generateKeyPairSync('ed25519', {
    privateKeyEncoding: { type: 'pkcs8', format: 'pem' },
    publicKeyEncoding: { type: 'spki', format: 'pem' },
  }).privateKey;
}

/**
 * A signer from a private key.
 * @param pem PKCS#8, not encrypted
 * @param name of the log: the origin of its checkpoints
 * @throws Error that says what is wrong with the key or the name, and never what is in it
 */
export function nodeSigner(pem: string, name: string): LogSigner {
  const key = readKey(pem);
  const publicKey = Buffer.from(createPublicKey(key).export({ format: 'jwk' }).x ?? '', 'base64url');
  return {
    vkey: formatVerifierKey(name, publicKey, (bytes) => nodeDigests.sha256(bytes)),
    sign: (message) => sign(null, message, key),
  };
}

function readKey(pem: string): KeyObject {
  let key: KeyObject;
  try {
    key = createPrivateKey({ key: pem, format: 'pem', type: 'pkcs8' });
  } catch {
    // What OpenSSL says of it may quote the key.
    throw new Error(`The signing key is no private key in PEM (PKCS#8, without a passphrase): ${HOW_TO_MAKE_ONE}.`);
  }
  if (key.asymmetricKeyType === 'ed25519') return key;
  throw new Error(`The signing key is of type ${key.asymmetricKeyType ?? 'unknown'}, not Ed25519: ${HOW_TO_MAKE_ONE}.`);
}
