import { ArchivePart, ArchiveRecord, ArchiveUnit } from '../../ledger/archives/archive-record.js';
import { ArchiveStore } from '../../ledger/ports/archive-store.js';
import { canonicalJson } from '../canonical-json.js';
import { textChunks } from '../text-chunks.js';
import { partsOf } from './archive-bytes.js';

const ARCHIVE_FORMAT = 'heatbook-archive';
const ARCHIVE_VERSION = 1;
export const MANIFEST_NAME = 'manifest.json';
export const MANIFEST_JWS_NAME = 'manifest.jws';

const PAGE = 500;

/** Names of a unit's files end so, by format. */
const ARCHIVE_EXTENSIONS: Readonly<Record<string, string>> = {
  json: '.audit.json',
  csv: '.csv',
  pdf: '.pdf',
  epcis: '.epcis.json',
};

/** Names of the files of a unit. */
export function filesOf({ path }: Pick<ArchiveUnit, 'path'>, formats: readonly string[]): readonly string[] {
  return formats.map((format) => `${path}${ARCHIVE_EXTENSIONS[format] ?? `.${format}`}`);
}

interface ManifestParts {
  /** With every unit settled. */
  readonly record: ArchiveRecord;
  /** Parts that are not entered yet, but for the manifest itself. */
  readonly closing: readonly ArchivePart[];
  /** The newest signed checkpoint; null where there is none. */
  readonly checkpoint: string | null;
}

/** Writes the manifest as canonical JSON, a page of units and files at a time; docs/archive-format.md says what it means. */
export function writeManifest(
  archives: Pick<ArchiveStore, 'units' | 'parts'>,
  parts: ManifestParts,
): AsyncGenerator<Uint8Array> {
  return textChunks(manifestTexts(archives, parts));
}

async function* manifestTexts(
  archives: Pick<ArchiveStore, 'units' | 'parts'>,
  { record, closing, checkpoint }: ManifestParts,
): AsyncGenerator<string> {
  const { id, requestedAt, wanted, missing, entries, formats } = record;
  const counts = {
    units: wanted - missing,
    missing,
    entries,
    files: record.parts + closing.length,
    bytes: closing.reduce((sum, { bytes }) => sum + bytes, record.contentBytes),
  };
  // Members in the order that the canonical form wants: checkpoint, counts, createdAt, files, format, id, and so on.
  yield `{"checkpoint":${canonicalJson(checkpoint)},"counts":${canonicalJson(counts)}`;
  yield `,"createdAt":${canonicalJson(requestedAt)},"files":`;
  yield* listOf(filesIn(archives, record, closing));
  yield `,"format":${canonicalJson(ARCHIVE_FORMAT)},"id":${canonicalJson(id)},"missing":`;
  yield* listOf(missingIn(archives, id));
  yield ',"units":';
  yield* listOf(unitsIn(archives, id, formats));
  yield `,"version":${canonicalJson(ARCHIVE_VERSION)},"wanted":${canonicalJson(wanted)}}`;
}

async function* listOf(items: AsyncIterable<object>): AsyncGenerator<string> {
  let before = '[';
  for await (const item of items) {
    yield before + canonicalJson(item);
    before = ',';
  }
  yield before === '[' ? '[]' : ']';
}

async function* filesIn(
  archives: Pick<ArchiveStore, 'parts'>,
  { id }: ArchiveRecord,
  closing: readonly ArchivePart[],
): AsyncGenerator<object> {
  const file = ({ name, bytes, sha256 }: ArchivePart): object => ({ name, bytes, sha256 });
  for await (const part of partsOf(archives, id, 0)) yield file(part);
  yield* closing.map(file);
}

async function* missingIn(archives: Pick<ArchiveStore, 'units'>, id: string): AsyncGenerator<object> {
  for await (const { assembly, serial, outcome } of everyUnit(archives, id)) {
    if (outcome === 'missing') yield { assembly, serial };
  }
}

async function* unitsIn(
  archives: Pick<ArchiveStore, 'units'>,
  id: string,
  formats: readonly string[],
): AsyncGenerator<object> {
  for await (const unit of everyUnit(archives, id)) {
    const { assembly, serial, outcome, count, headHash } = unit;
    if (outcome === 'written') yield { assembly, serial, count, headHash, files: filesOf(unit, formats) };
  }
}

/** Units of an archive, in order. */
export async function* everyUnit(
  archives: Pick<ArchiveStore, 'units'>,
  id: string,
  from = 0,
): AsyncGenerator<ArchiveUnit> {
  for (let next = from; ;) {
    const page = await archives.units(id, next, PAGE);
    yield* page;
    if (page.length < PAGE) return;
    next += page.length;
  }
}
