import { createPublicKey, KeyObject } from 'node:crypto';
import { LogCheckpoint, verifyCheckpoint } from '@sigstore/verify/dist/tlog/checkpoint.js';
import { verifyMerkleInclusion } from '@sigstore/verify/dist/tlog/merkle.js';
import { RFC9162 } from '@transmute/rfc9162';
import { compactVerify } from 'jose';
import { ConsistencyClaim } from '../../libs/ledger/log/merkle/check-proofs.js';
import { VerifierKey } from '../../libs/ledger/log/notes/verifier-key.js';

type SigstoreEntry = Parameters<typeof verifyCheckpoint>[0];

/** What stands before the 32 bytes of an Ed25519 key in a SubjectPublicKeyInfo (RFC 8410, section 4). */
const SPKI_PREFIX = Buffer.from('302a300506032b6570032100', 'hex');

/** An entry as it is claimed to be in a log. */
export interface ClaimedEntry {
  readonly data: Uint8Array;
  readonly index: number;
  readonly path: readonly Uint8Array[];
}

function keyObjectOf(key: VerifierKey): KeyObject {
  return createPublicKey({ key: Buffer.concat([SPKI_PREFIX, key.publicKey]), format: 'der', type: 'spki' });
}

/** The checkpoint and the entry under it, by @sigstore/verify. @returns whether it takes both */
export function sigstoreAccepts(note: string, key: VerifierKey, entry: ClaimedEntry): boolean {
  const claim = sigstoreEntry(note, entry);
  const authority = {
    logID: Buffer.from(key.keyId),
    baseURL: key.name,
    publicKey: keyObjectOf(key),
    validFor: { start: new Date(0), end: new Date(8.64e15) },
  };
  return passes(() => {
    const checkpoint: LogCheckpoint = verifyCheckpoint(claim, [authority]);
    verifyMerkleInclusion(claim, checkpoint);
  });
}

/** The same proof of inclusion by @transmute/rfc9162, against a root that is known. */
export async function transmuteAcceptsInclusion(root: Uint8Array, size: number, entry: ClaimedEntry): Promise<boolean> {
  const proof = { log_id: '', tree_size: size, leaf_index: entry.index, inclusion_path: [...entry.path] };
  return resolves(async () => RFC9162.verifyInclusionProof(root, await RFC9162.leaf(entry.data), proof));
}

/**
 * A proof of consistency by @transmute/rfc9162. It leaves out step 2 of RFC 9162, section 2.1.4.2 (its source says so):
 * where the older size is a power of two, the older root is put before the path here.
 */
export async function transmuteAcceptsConsistency(claim: ConsistencyClaim): Promise<boolean> {
  const { from, to, fromRoot, toRoot, path } = claim;
  const whole = Number.isInteger(Math.log2(from)) ? [fromRoot, ...path] : [...path];
  const proof = { log_id: '', tree_size_1: from, tree_size_2: to, consistency_path: whole };
  return resolves(() => RFC9162.verifyConsistencyProof(fromRoot, toRoot, proof));
}

/** A JWS by jose, with the key that it should be signed with. */
export async function joseAccepts(jws: string, key: VerifierKey): Promise<boolean> {
  return resolves(() => compactVerify(jws, keyObjectOf(key), { algorithms: ['EdDSA'] }).then(() => true));
}

function sigstoreEntry(note: string, { data, index, path }: ClaimedEntry): SigstoreEntry {
  return {
    logIndex: String(index),
    logId: { keyId: Buffer.alloc(0) },
    kindVersion: { kind: '', version: '' },
    integratedTime: '0',
    inclusionPromise: undefined,
    inclusionProof: {
      logIndex: String(index),
      rootHash: Buffer.alloc(0),
      treeSize: '0',
      hashes: path.map((hash) => Buffer.from(hash)),
      checkpoint: { envelope: note },
    },
    canonicalizedBody: Buffer.from(data),
  };
}

function passes(check: () => void): boolean {
  try {
    check();
    return true;
  } catch {
    return false;
  }
}

async function resolves(check: () => Promise<boolean>): Promise<boolean> {
  try {
    return await check();
  } catch {
    return false;
  }
}
