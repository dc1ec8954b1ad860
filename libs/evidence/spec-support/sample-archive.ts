import { TextReader, Uint8ArrayReader, Uint8ArrayWriter, ZipWriter } from '@zip.js/zip.js';
import { censusGroupOf } from '../../ledger/log/census-tree.js';
import type { CensusData } from '../../ledger/log/log-evidence.js';
import type { LogSigner } from '../../ledger/log/log-signer.js';
import { canonicalJson } from '../canonical-json.js';
import { signJws } from '../log/jws.js';
import { sha256Hex } from '../seal.js';
import type { SampleHouse } from './sample-house.js';

/** Content of files by name, in the order of the archive. */
export type ArchiveContent = Map<string, string | Uint8Array>;

export interface SampleManifest {
  [member: string]: unknown;
  wanted: number;
  units: { assembly: string; serial: string; count: number; headHash: string; files: string[] }[];
  missing: { assembly: string; serial: string }[];
  files: { name: string; bytes: number; sha256: string }[];
  counts: { units: number; missing: number; entries: number; files: number; bytes: number };
  checkpoint: string | null;
}

/** The files of an archive of units, as a house hands them out, but for the manifest. */
export async function sampleFiles(house: SampleHouse, subjects: readonly string[]): Promise<ArchiveContent> {
  const files: ArchiveContent = new Map();
  for (const subject of subjects) {
    files.set(`units/${subject}.audit.json`, JSON.stringify(await house.audit(subject, { device: 'none' })));
    files.set(`units/${subject}.csv`, `seq\r\n1\r\n`);
  }
  files.set('checkpoint.txt', await house.checkpoint());
  return files;
}

/** What the census of an archive is, from the newest census that an audit carries. */
export async function sampleCensus(house: SampleHouse, subject: string): Promise<string> {
  const log = await house.evidence([subject]);
  const census = log.censuses.at(-1);
  if (census === undefined) throw new Error('the sample has no census');
  const { entry, inclusion, group, groupIndex, groupPath } = census;
  const counted = house.leaves.slice(0, (entry.data as CensusData).size);
  const newest = new Map(counted.map((leaf) => [leaf.subject, leaf]));
  const ledgers = [...newest.values()]
    .filter((leaf) => censusGroupOf(leaf.subject) === group.group)
    .sort((a, b) => (a.subject < b.subject ? -1 : 1));
  const { checkpoint } = log;
  const groups = [{ checkpoint, entry, group, groupIndex, groupPath, inclusion, ledgers }];
  return canonicalJson({ format: 'heatbook-archive-census', version: 1, groups });
}

/** The manifest over these files, as a house, or a forger, makes it. */
export function sampleManifest(files: ArchiveContent, missing: SampleManifest['missing'] = []): SampleManifest {
  const listed = [...files].map(([name, content]) => {
    const bytes = bytesOf(content);
    return { name, bytes: bytes.length, sha256: sha256Hex(bytes) };
  });
  const units = [...files].flatMap(([name, content]) => {
    if (!name.endsWith('.audit.json') || typeof content !== 'string') return [];
    const { assembly, serial, count, headHash } = JSON.parse(content) as SampleManifest['units'][number];
    return [{ assembly, serial, count, headHash, files: [name] }];
  });
  const checkpoint = files.get('checkpoint.txt');
  return {
    ...{ format: 'heatbook-archive', version: 1, id: 'a-1', createdAt: '2026-03-03T10:00:00.000Z' },
    ...{ wanted: units.length + missing.length, units, missing, files: listed },
    counts: {
      ...{ units: units.length, missing: missing.length, files: listed.length },
      entries: units.reduce((sum, { count }) => sum + count, 0),
      bytes: listed.reduce((sum, { bytes }) => sum + bytes, 0),
    },
    checkpoint: typeof checkpoint === 'string' ? checkpoint : null,
  };
}

/**
 * Packs files with their manifest, which is signed where there is a signer.
 * @param signed the manifest that the signature is over, where a forger has put another one there
 */
export async function packed(
  files: ArchiveContent,
  manifest: object,
  signer: LogSigner | null,
  signed = manifest,
): Promise<Uint8Array> {
  const all = new Map(files).set('manifest.json', canonicalJson(manifest));
  if (signer) {
    const payload = bytesOf(canonicalJson(signed));
    all.set(
      'manifest.jws',
      signJws(payload, signer.vkey, (message) => signer.sign(message)),
    );
  }
  return zipped(all);
}

/** Packs files as they are. */
export async function zipped(files: ArchiveContent): Promise<Uint8Array> {
  const zip = new ZipWriter(new Uint8ArrayWriter(), { useWebWorkers: false, keepOrder: true });
  for (const [name, content] of files) {
    await zip.add(name, typeof content === 'string' ? new TextReader(content) : new Uint8ArrayReader(content));
  }
  return zip.close();
}

function bytesOf(content: string | Uint8Array): Uint8Array {
  return typeof content === 'string' ? new TextEncoder().encode(content) : content;
}
