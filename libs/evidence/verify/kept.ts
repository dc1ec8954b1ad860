import { readAudit, UnreadableAudit, type ReadAudit } from './read-audit.js';
import { asRecord } from './read-members.js';

/** What a reader has from before, or by another way than the file. */
export interface Kept {
  /** Verifier key of the house (C2SP signed-note). Without it the keys are taken on trust from the file. */
  readonly key?: string;
  /** A signed checkpoint, or an audit (JSON) exported earlier. */
  readonly checkpoint?: string;
  /** A consistency proof as `GET /v1/log/proofs/consistency` answers it. */
  readonly proof?: string;
}

export interface KeptCheckpoint {
  /** A signed note. */
  readonly note: string;
  /** The audit that it stood in. */
  readonly audit: ReadAudit | null;
}

/** Reads a signed checkpoint or an earlier audit. Undefined for an audit without one. */
export function readKeptCheckpoint(text: string): KeptCheckpoint | undefined {
  if (!/^\s*\{/.test(text)) return { note: text, audit: null };
  try {
    const audit = readAudit(text);
    const note = asRecord(audit.extras?.log)?.checkpoint;
    return typeof note === 'string' ? { note, audit } : undefined;
  } catch (error) {
    if (error instanceof UnreadableAudit) return undefined;
    throw error;
  }
}
