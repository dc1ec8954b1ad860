import { fromBase64Url, toBase64Url } from '../../ledger/log/notes/base64.js';
import { canonicalJson } from '../canonical-json.js';

/** Longest JWS that is read, in characters: the manifest of a large archive stands in one. */
export const MAX_JWS = 64 * 1024 * 1024;
const SIGNATURE_BYTES = 64;

/** What a JWS says of itself. */
export interface JwsHeader {
  readonly alg: 'EdDSA';
  /** The verifier key that it was signed with; absent where it does not say. */
  readonly kid?: string;
}

export interface ParsedJws {
  readonly header: JwsHeader;
  readonly payload: Uint8Array;
  /** What the signature is over. */
  readonly signingInput: Uint8Array;
  readonly signature: Uint8Array;
}

/**
 * Signs a payload in the compact serialisation of a JWS (RFC 7515, section 7.1) with EdDSA (RFC 8037, section 3.1).
 * @param kid verifier key of the signer
 * @param sign Ed25519. @returns 64 bytes
 */
export function signJws(payload: Uint8Array, kid: string, sign: (message: Uint8Array) => Uint8Array): string {
  const header = new TextEncoder().encode(canonicalJson({ alg: 'EdDSA', kid }));
  const signingInput = `${toBase64Url(header)}.${toBase64Url(payload)}`;
  return `${signingInput}.${toBase64Url(sign(new TextEncoder().encode(signingInput)))}`;
}

/**
 * Takes a compact JWS apart; its signature is not checked. Undefined where it is none, is not signed with EdDSA, asks
 * for extensions (`crit`), or is written in a way that `signJws` would not write: base 64 with bits set where none
 * belong, a header that is not in canonical form, so that no two readers can take it differently.
 */
export function parseJws(jws: string): ParsedJws | undefined {
  if (jws.length > MAX_JWS) return undefined;
  const [head = '', body = '', seal = '', ...rest] = jws.split('.');
  const [headerBytes, payload, signature] = [fromBase64Url(head), fromBase64Url(body), fromBase64Url(seal)];
  if (!headerBytes || !payload || signature?.length !== SIGNATURE_BYTES || rest.length > 0) return undefined;
  const header = readHeader(headerBytes);
  return header && { header, payload, signingInput: new TextEncoder().encode(`${head}.${body}`), signature };
}

function readHeader(bytes: Uint8Array): JwsHeader | undefined {
  try {
    const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
    const value: unknown = JSON.parse(text);
    if (typeof value !== 'object' || value === null || canonicalJson(value) !== text) return undefined;
    const { alg, kid, crit } = value as Record<string, unknown>;
    if (alg !== 'EdDSA' || crit !== undefined) return undefined;
    if (kid === undefined) return { alg };
    return typeof kid === 'string' ? { alg, kid } : undefined;
  } catch {
    // No text, no JSON, or nested deeper than it can be written again.
    return undefined;
  }
}
