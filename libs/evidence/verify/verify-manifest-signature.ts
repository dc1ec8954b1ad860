import { sameBytes } from '../../ledger/log/merkle/hashing.js';
import type { Digests } from '../digests.js';
import { parseJws, type ParsedJws } from '../log/jws.js';
import type { Kept } from './kept.js';
import type { KeyList, KeyRing } from './key-ring.js';
import type { Manifest } from './read-manifest.js';
import { notShown, ofTheFile, outcomeOf, type Outcome } from './verification-report.js';
import { signatureFindings } from './verify-statement.js';

const CHECK = 'the manifest is signed by the house';
const UNSIGNED =
  'The manifest is not signed: an archive out of which units were taken, and out of its manifest too, looks like this.';

/** The signature under a manifest; `jws` is undefined where it is none that can be read. */
export interface ManifestSignature {
  readonly jws: ParsedJws | undefined;
}

/** @param content of the file; undefined where the archive has none */
export function readManifestSignature(content: Uint8Array | undefined): ManifestSignature | null {
  if (content === undefined) return null;
  return { jws: parseJws(new TextDecoder().decode(content).trimEnd()) };
}

/** Where no audit carries the keys of the log, the manifest alone names one. */
export function keysOfManifest(signature: ManifestSignature | null, { createdAt }: Manifest): KeyList {
  const vkey = signature?.jws?.header.kid;
  return { origin: '', keys: vkey === undefined ? [] : [{ vkey, since: createdAt, endorsement: null }] };
}

/** Checks that the signature is over the manifest byte for byte, by a key of the house. Beside a key there has to be one. */
export async function verifyManifestSignature(
  signature: ManifestSignature | null,
  manifest: Uint8Array,
  ring: KeyRing,
  digests: Digests,
  { key }: Kept,
): Promise<Outcome> {
  if (signature === null && key !== undefined) return outcomeOf(CHECK, [ofTheFile('not-signed', UNSIGNED)]);
  if (signature === null) return notShown(CHECK, [UNSIGNED]);
  const { jws } = signature;
  if (jws === undefined) {
    return outcomeOf(CHECK, [ofTheFile('manifest-forged', 'manifest.jws is no compact JWS with EdDSA.')]);
  }
  if (!sameBytes(jws.payload, manifest)) {
    const what = 'The manifest is not the one that the house signed: files or units were taken out, added or changed.';
    return outcomeOf(CHECK, [ofTheFile('manifest-forged', what)]);
  }
  return outcomeOf(CHECK, await signatureFindings('The manifest', 'manifest-forged', jws, ring, digests));
}
