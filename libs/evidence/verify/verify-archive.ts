import type { Digests } from '../digests.js';
import { ArchiveAudits } from './archive-audits.js';
import { ArchiveCensus, CENSUS_FILE } from './archive-census.js';
import { MANIFEST, MANIFEST_JWS, verifyFiles } from './archive-files.js';
import { keyRing, type KeyRing } from './key-ring.js';
import type { Kept } from './kept.js';
import { openArchive, type ArchiveFile } from './open-archive.js';
import type { RandomAccess } from './random-access.js';
import { manifestFindings, readManifest } from './read-manifest.js';
import { ofTheFile, outcomeOf, together, type Outcome, type VerificationReport } from './verification-report.js';
import { LIMITS, unreadable } from './verify-audit.js';
import { CHECKPOINT_CODES, verifyCheckpoint } from './verify-checkpoint.js';
import { onTrust } from './verify-evidence.js';
import { keysOfManifest, readManifestSignature, verifyManifestSignature } from './verify-manifest-signature.js';

const OPENED = 'the archive is whole, and everybody reads the same files in it';
const AGREES = 'the manifest agrees with itself';
const AS_LISTED = 'every file is there once, as the manifest says, and no other';
const CHECKPOINTS = 'the checkpoints beside the audits are signed by the house';
const NO_MANIFEST =
  'The archive has no manifest.json that can be unpacked: it is not whole, and what is missing cannot be told.';

/** Checks an archive: its manifest, every file by that, every audit by itself and with the others. One file at a time. */
export async function verifyArchive(
  source: RandomAccess,
  digests: Digests,
  kept: Kept = {},
): Promise<VerificationReport> {
  const { files, finding } = await openArchive(source);
  if (finding?.code === 'archive-cut') return unreadable('archive', { code: finding.code, message: finding.what });
  if (files === null) return reportOn([outcomeOf(OPENED, [finding])]);
  const text = await contentOf(files, MANIFEST);
  if (text === undefined) return reportOn([outcomeOf(AGREES, [ofTheFile('manifest-missing', NO_MANIFEST)])]);
  const manifest = readManifest(text);
  if ('code' in manifest) return reportOn([outcomeOf(AGREES, [manifest])]);
  const census = await ArchiveCensus.read(await contentOf(files, CENSUS_FILE), digests);
  const audits = new ArchiveAudits(manifest, census, digests, kept);
  const changed = await verifyFiles(files, manifest, digests, (file) => audits.take(file));
  const signature = readManifestSignature(await contentOf(files, MANIFEST_JWS));
  const keys = audits.log.keys ?? keysOfManifest(signature, manifest);
  const ring = await keyRing(keys, kept.key, digests);
  const newest = keys.keys.at(-1);
  const parts = [
    outcomeOf(OPENED, []),
    outcomeOf(AGREES, manifestFindings(manifest)),
    outcomeOf(AS_LISTED, changed),
    await verifyManifestSignature(signature, text, ring, digests, kept),
    audits.outcome(),
    census.outcome(manifest),
    await checkpoints(
      [...(manifest.checkpoint === null ? [] : [manifest.checkpoint]), ...census.checkpoints],
      keys.origin,
      ring,
      audits,
      digests,
    ),
    { checks: [], findings: [], notes: kept.key === undefined && newest ? [onTrust(newest.vkey)] : [] },
  ];
  return { ...reportOn(parts), units: audits.units, entries: audits.entries };
}

/** Checks those that stand beside the audits: each audit's own is checked with it. */
async function checkpoints(
  notes: readonly string[],
  origin: string,
  ring: KeyRing,
  { log }: ArchiveAudits,
  digests: Digests,
): Promise<Outcome> {
  const each = await Promise.all(
    [...new Set(notes)].map(async (note) => {
      // Without an audit that names the log, a checkpoint names it itself.
      const wanted = origin === '' ? note.slice(0, note.indexOf('\n')) : origin;
      const { findings } = await verifyCheckpoint('A checkpoint', note, wanted, ring, CHECKPOINT_CODES, digests);
      return findings.length > 0 ? findings : log.takeCheckpoint(note);
    }),
  );
  return outcomeOf(CHECKPOINTS, each.flat());
}

/** Undefined where there is no such file, or it cannot be unpacked. */
async function contentOf(files: readonly ArchiveFile[], name: string): Promise<Uint8Array | undefined> {
  try {
    return await files.find((file) => file.name === name)?.content();
  } catch {
    return undefined;
  }
}

function reportOn(parts: readonly Outcome[]): VerificationReport {
  const { checks, findings, notes } = together(parts);
  return {
    kind: 'archive',
    holds: findings.length === 0,
    subject: null,
    units: 0,
    entries: 0,
    checks,
    findings,
    notes: [...new Set(notes)],
    tale: null,
    limits: LIMITS.anchored,
  };
}
