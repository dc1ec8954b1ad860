import { canonicalJson } from '../canonical-json.js';
import { Malformed, Members } from './read-members.js';
import { ofTheFile, type Finding } from './verification-report.js';

const FORMAT = 'heatbook-archive';
const VERSION = 1;
/** How the name of a unit's audit ends. */
export const AUDIT_EXTENSION = '.audit.json';
/** More than any archive has; a longer list is not read. */
const MOST = 200_000;

export interface ManifestFile {
  readonly name: string;
  readonly bytes: number;
  readonly sha256: string;
}

export interface ManifestUnit {
  readonly assembly: string;
  readonly serial: string;
  readonly count: number;
  readonly headHash: string;
  readonly files: readonly string[];
}

/** What an archive says that it has. */
export interface Manifest {
  readonly createdAt: string;
  readonly wanted: number;
  readonly units: readonly ManifestUnit[];
  readonly missing: readonly { readonly assembly: string; readonly serial: string }[];
  readonly files: readonly ManifestFile[];
  readonly counts: Readonly<Record<'units' | 'missing' | 'entries' | 'files' | 'bytes', number>>;
  readonly checkpoint: string | null;
}

/** Reads a manifest. Its figures are not compared yet. */
export function readManifest(bytes: Uint8Array): Manifest | Finding {
  try {
    const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
    const value: unknown = JSON.parse(text);
    // No two readers can take a canonical text differently.
    if (canonicalJson(value) !== text) throw new Malformed('', 'is not in canonical form');
    return manifestOf(Members.of(value, ''));
  } catch (error) {
    const why = error instanceof Malformed ? error.message : 'it is no JSON';
    return ofTheFile('manifest-malformed', `The manifest cannot be read: ${why}.`);
  }
}

function manifestOf(manifest: Members): Manifest {
  if (manifest.any('format') !== FORMAT) throw manifest.malformed('format', `is not "${FORMAT}"`);
  if (manifest.any('version') !== VERSION) throw manifest.malformed('version', `is not ${VERSION}`);
  const counts = manifest.members('counts');
  return {
    createdAt: manifest.text('createdAt'),
    wanted: manifest.count('wanted'),
    units: manifest.each('units', MOST).map((unit) => ({
      assembly: unit.text('assembly'),
      serial: unit.text('serial'),
      count: unit.count('count'),
      headHash: unit.hash('headHash'),
      files: unit.texts('files', MOST),
    })),
    missing: manifest.each('missing', MOST).map((unit) => ({
      assembly: unit.text('assembly'),
      serial: unit.text('serial'),
    })),
    files: manifest.each('files', MOST).map((file) => ({
      name: file.text('name'),
      bytes: file.count('bytes'),
      sha256: file.hash('sha256'),
    })),
    counts: {
      units: counts.count('units'),
      missing: counts.count('missing'),
      entries: counts.count('entries'),
      files: counts.count('files'),
      bytes: counts.count('bytes'),
    },
    checkpoint: manifest.textOrNull('checkpoint'),
  };
}

/** Whether a manifest agrees with itself. */
export function manifestFindings({ counts, units, missing, files, wanted }: Manifest): Finding[] {
  const lengths = {
    units: units.length,
    missing: missing.length,
    entries: units.reduce((sum, { count }) => sum + count, 0),
    files: files.length,
    bytes: files.reduce((sum, { bytes }) => sum + bytes, 0),
  };
  const wrong = Object.entries(lengths).flatMap(([name, length]) => {
    const stated = counts[name as keyof typeof counts];
    return stated === length ? [] : [`it counts ${stated} ${name} and lists ${length}`];
  });
  if (units.length + missing.length !== wanted) {
    wrong.push(`${wanted} units were asked for, and it tells of ${units.length + missing.length}`);
  }
  const listed = new Set(files.map(({ name }) => name));
  for (const unit of units) {
    const { assembly, serial } = unit;
    if (!unit.files.some((name) => name.endsWith(AUDIT_EXTENSION))) wrong.push(`${assembly}/${serial} has no audit`);
    const unlisted = unit.files.find((name) => !listed.has(name));
    if (unlisted !== undefined)
      wrong.push(`${unlisted} is a file of ${assembly}/${serial}, and is not among the files`);
  }
  return wrong.map((what) => ofTheFile('manifest-mismatch', `The manifest contradicts itself: ${what}.`));
}
