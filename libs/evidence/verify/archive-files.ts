import { toHex } from '../../ledger/log/notes/hex.js';
import type { Digests } from '../digests.js';
import type { ArchiveFile } from './open-archive.js';
import type { Manifest } from './read-manifest.js';
import { ofTheFile, type Finding } from './verification-report.js';

export const MANIFEST = 'manifest.json';
export const MANIFEST_JWS = 'manifest.jws';

/** A file that is what the manifest says. */
export interface SoundFile {
  readonly name: string;
  readonly sha256: string;
  readonly content: Uint8Array;
}

/**
 * Compares every file of an archive with its manifest, one at a time.
 * @param sound takes those that are what it says
 */
export async function verifyFiles(
  files: readonly ArchiveFile[],
  manifest: Manifest,
  digests: Digests,
  sound: (file: SoundFile) => Promise<void>,
): Promise<Finding[]> {
  const listed = new Map(manifest.files.map((file) => [file.name, file]));
  const there = new Set(files.map(({ name }) => name));
  const findings: Finding[] = [];
  const say = (name: string, code: Finding['code'], what: string) => {
    findings.push({ ...ofTheFile(code, `${name} ${what}.`), file: name });
  };
  if (listed.size < manifest.files.length) {
    findings.push(ofTheFile('manifest-mismatch', 'The manifest lists a file twice.'));
  }
  for (const { name } of listed.values()) {
    if (!there.has(name))
      say(name, 'file-missing', 'is missing: the manifest lists it, and the archive does not have it');
  }
  for (const file of files) {
    const { name } = file;
    if (name === MANIFEST || name === MANIFEST_JWS) continue;
    const wanted = listed.get(name);
    if (wanted === undefined) {
      say(name, 'file-added', 'was added: the manifest does not list it');
      continue;
    }
    try {
      const content = await file.content();
      const sha256 = toHex(digests.sha256(content));
      if (sha256 === wanted.sha256 && content.length === wanted.bytes) await sound({ name, sha256, content });
      else say(name, 'file-changed', 'was changed: it has another SHA-256 or length than the manifest says');
    } catch (error) {
      if (!(error instanceof Error)) throw error;
      say(name, 'file-unreadable', `cannot be unpacked (${error.message})`);
    }
  }
  return findings;
}
