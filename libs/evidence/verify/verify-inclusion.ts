import type { LedgerPlace } from '../../ledger/log/log-evidence.js';
import { rootFromInclusion } from '../../ledger/log/merkle/check-proofs.js';
import { HASH_BYTES, leafHash, sameBytes, type Sha256 } from '../../ledger/log/merkle/hashing.js';
import { fromHex } from '../../ledger/log/notes/hex.js';
import type { Checkpoint } from '../../ledger/log/notes/checkpoint.js';
import type { ReadInclusion, ReadLog } from './read-log.js';
import type { Finding } from './verification-report.js';

/** What somebody who cannot be told otherwise says of an entry: the log, or a census in it. */
export interface Anchor extends LedgerPlace {
  /** As it stands within a sentence. */
  readonly witness: string;
}

/** Whether the entry that the proof names is the leaf that it says, in the log of the checkpoint. */
export function isIncluded(sha256: Sha256, { hash, index, path }: ReadInclusion, { size, root }: Checkpoint): boolean {
  const data = fromHex(hash, HASH_BYTES);
  if (data === undefined) return false;
  const found = rootFromInclusion(sha256, { index, size, leaf: leafHash(sha256, data), path });
  return found !== undefined && sameBytes(found, root);
}

/** The newest entry that the log has of each ledger, where its proof leads to the checkpoint; and what is wrong with the others. */
export function anchorsInLog(
  { inclusion }: ReadLog,
  checkpoint: Checkpoint,
  subjects: ReadonlySet<string>,
  sha256: Sha256,
): { readonly anchors: ReadonlyMap<string, Anchor>; readonly findings: readonly Finding[] } {
  const anchors = new Map<string, Anchor>();
  const findings: Finding[] = [];
  const seen = new Set<string>();
  for (const proof of inclusion) {
    const { subject, seq, hash } = proof;
    const say = (code: Finding['code'], what: string) => findings.push({ ledger: subject, seq, code, what });
    if (!subjects.has(subject)) {
      say('inclusion-foreign', `The file proves entry ${seq} of ${subject} to be in the log, but has no such ledger.`);
    } else if (seen.has(subject)) {
      say('inclusion-twice', `A second proof for ${subject} stands in the file, for entry ${seq}.`);
    } else if (!isIncluded(sha256, proof, checkpoint)) {
      const what = `The proof that entry ${seq} is in the log does not lead to the checkpoint: it is of another entry or log.`;
      say('inclusion-broken', what);
    } else {
      anchors.set(subject, { subject, seq, hash, witness: 'the log' });
    }
    seen.add(subject);
  }
  return { anchors, findings };
}
