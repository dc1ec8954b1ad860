import { sha256 } from '@noble/hashes/sha2.js';
import type { Digests } from '../../../libs/evidence/digests.js';

const encoder = new TextEncoder();

/** RFC 8032, section 7.1, TEST 2: what a browser that checks Ed25519 must find sound. */
const KNOWN = {
  publicKey: '3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c',
  message: '72',
  signature:
    '92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00',
};

/** Digests of a browser: SHA-256 by @noble/hashes, which need not be waited for, and Ed25519 by WebCrypto. */
export const webDigests: Digests = {
  sha256: (content) => sha256(typeof content === 'string' ? encoder.encode(content) : content),
  async verifyEd25519(publicKey, message, signature) {
    const key = await imported(publicKey);
    return key !== undefined && crypto.subtle.verify('Ed25519', key, own(signature), own(message));
  },
};

/**
 * Whether this browser can check signatures here. It cannot where it is too old, and on a page that came over plain http
 * from another machine, to which browsers give no cryptography.
 */
export async function canCheckSignatures(): Promise<boolean> {
  if (!isSecureContext || !('subtle' in crypto)) return false;
  try {
    const [publicKey, message, signature] = [KNOWN.publicKey, KNOWN.message, KNOWN.signature].map(bytesOf);
    if (!publicKey || !message || !signature) return false;
    const sound = await webDigests.verifyEd25519(publicKey, message, signature);
    return sound && !(await webDigests.verifyEd25519(publicKey, signature, signature));
  } catch {
    return false;
  }
}

/** Undefined for what is no key; throws where the browser does not know Ed25519. */
async function imported(publicKey: Uint8Array): Promise<CryptoKey | undefined> {
  try {
    return await crypto.subtle.importKey('raw', own(publicKey), 'Ed25519', false, ['verify']);
  } catch (error) {
    if (error instanceof DOMException && error.name === 'NotSupportedError') throw error;
    return undefined;
  }
}

function bytesOf(hex: string): Uint8Array {
  return Uint8Array.from(hex.match(/../g) ?? [], (pair) => parseInt(pair, 16));
}

/** A copy that is certainly not shared memory, which WebCrypto does not take. */
function own(bytes: Uint8Array): Uint8Array<ArrayBuffer> {
  return new Uint8Array(bytes);
}
