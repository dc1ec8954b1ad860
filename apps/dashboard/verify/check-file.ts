import { sha256 } from '@noble/hashes/sha2.js';
import { toHex } from '../../../libs/ledger/log/notes/hex.js';
import { parseVerifierKey } from '../../../libs/ledger/log/notes/verifier-key.js';
import { readKeptCheckpoint, type Kept } from '../../../libs/evidence/verify/kept.js';
import type { RandomAccess } from '../../../libs/evidence/verify/random-access.js';
import { verifyFile } from '../../../libs/evidence/verify/verify-file.js';
import type { CheckAnswer, CheckJob } from './check-job.js';
import { canCheckSignatures, webDigests } from './web-digests.js';

/** Bytes that are hashed at a time. */
const PIECE_BYTES = 4 * 1024 * 1024;

const NO_SIGNATURES =
  'This browser cannot check Ed25519 signatures here. Take a current version of it; and if this page came over plain ' +
  'http from another machine, save it and open it from your disk: browsers give cryptography only to https and to files.';
const NO_KEY =
  'What stands in “Key of the house” is no key: it is one line, a name, eight hex digits and 44 more characters, with a ' +
  'plus between. Copy it whole, or leave the field empty.';
const NO_CHECKPOINT =
  'What stands in “An older checkpoint” is neither a signed checkpoint nor an audit with one: copy it whole, or leave the ' +
  'field empty.';

/** Checks a file as `heatbook verify` does. */
export async function checkFile({ file, kept: given }: CheckJob): Promise<CheckAnswer> {
  const kept = await withText(given);
  const refusal = (await canCheckSignatures()) ? unfit(kept) : NO_SIGNATURES;
  if (refusal !== undefined) return { refusal };
  const report = await verifyFile(inPlaces(file), webDigests, kept);
  const worthKeeping = report.holds && report.kind === 'audit';
  const checkpoint = worthKeeping ? readKeptCheckpoint(await file.text())?.note : undefined;
  return { result: { report, fileHash: await hashOf(file), checkpoint: checkpoint ?? null } };
}

async function withText({ checkpoint, ...kept }: CheckJob['kept']): Promise<Kept> {
  if (checkpoint === undefined) return kept;
  return { ...kept, checkpoint: typeof checkpoint === 'string' ? checkpoint : await checkpoint.text() };
}

function unfit({ key, checkpoint }: Kept): string | undefined {
  if (key !== undefined && parseVerifierKey(key, webDigests.sha256) === undefined) return NO_KEY;
  if (checkpoint !== undefined && readKeptCheckpoint(checkpoint) === undefined) return NO_CHECKPOINT;
  return undefined;
}

function inPlaces(file: File): RandomAccess {
  return {
    size: file.size,
    read: async (offset, length) => new Uint8Array(await file.slice(offset, offset + length).arrayBuffer()),
  };
}

async function hashOf(file: File): Promise<string> {
  const hash = sha256.create();
  for (let at = 0; at < file.size; at += PIECE_BYTES) {
    hash.update(new Uint8Array(await file.slice(at, at + PIECE_BYTES).arrayBuffer()));
  }
  return toHex(hash.digest());
}
