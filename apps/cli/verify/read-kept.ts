import { readFile, stat } from 'node:fs/promises';
import { parseVerifierKey } from '../../../libs/ledger/log/notes/verifier-key.js';
import { nodeDigests } from '../../../libs/evidence/node-digests.js';
import { readKeptCheckpoint, type Kept } from '../../../libs/evidence/verify/kept.js';

/** Files, or for the key the key itself. */
export interface KeptFiles {
  readonly key?: string;
  readonly checkpoint?: string;
  readonly proof?: string;
}

/** Of a key, a proof, an audit: nothing that is kept is larger. */
const MOST_BYTES = 2 ** 29 - 2 ** 16;

/**
 * Reads what a reader has kept.
 * @throws Error that says which of them cannot be read, and what it should be
 */
export async function readKept({ key, checkpoint, proof }: KeptFiles): Promise<Kept> {
  return {
    ...(key !== undefined && { key: await readKey(key) }),
    ...(checkpoint !== undefined && { checkpoint: await readCheckpoint(checkpoint) }),
    ...(proof !== undefined && { proof: await readText(proof) }),
  };
}

async function readKey(given: string): Promise<string> {
  const key = isKey(given) ? given : (await readText(given)).trim();
  if (isKey(key)) return key;
  throw new Error(
    `${given} holds no verifier key: give the line {name}+{8 hex digits}+{base64} that the house publishes, or a file with it`,
  );
}

function isKey(text: string): boolean {
  return parseVerifierKey(text, nodeDigests.sha256) !== undefined;
}

async function readCheckpoint(file: string): Promise<string> {
  const text = await readText(file);
  if (readKeptCheckpoint(text) !== undefined) return text;
  throw new Error(`${file} holds neither a signed checkpoint nor an audit (JSON, version 2) with one`);
}

async function readText(file: string): Promise<string> {
  const { size } = await stat(file);
  if (size > MOST_BYTES) throw new Error(`${file} is larger than anything that is kept`);
  return new TextDecoder('utf-8', { fatal: true }).decode(await readFile(file));
}
