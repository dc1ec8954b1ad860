import { KEPT_MS } from '../../ledger/archives/archive-bounds.js';
import { ArchivePart, ArchiveRecord } from '../../ledger/archives/archive-record.js';
import { ArchiveClaim, ArchiveLost } from '../../ledger/ports/archive-store.js';
import { MAX_JWS, signJws } from '../log/jws.js';
import { textChunks } from '../text-chunks.js';
import { directoryBytes, partsOf } from './archive-bytes.js';
import { ArchiveCensus, censusTexts } from './archive-census.js';
import { ArchiveDeps } from './archive-deps.js';
import { ArchiveImpossible } from './archive-error.js';
import { everyUnit, MANIFEST_JWS_NAME, MANIFEST_NAME, writeManifest } from './archive-manifest.js';
import { archiveReadme } from './archive-readme.js';
import { PartPacker } from './part-packer.js';
import { directoryHeader } from './zip-format.js';

/** Assemblies whose census is given: each is a list of all its ledgers. */
const MOST_CENSUSES = 20;
/** A manifest is signed as a whole, and so has to be in memory: base 64 makes four thirds of it. */
const MOST_MANIFEST_BYTES = Math.floor(MAX_JWS / 2);

/**
 * Adds to an archive, once every unit is settled, what is about all of them, ending with its manifest. All of it is entered
 * in one commit with the end: an archive is done, or has none of it.
 * @throws ArchiveLost
 */
export async function closeArchive(deps: ArchiveDeps, claim: ArchiveClaim, signal: AbortSignal): Promise<void> {
  const { archives, clock, signer } = deps;
  const record = await archives.get(claim.id);
  if (record === undefined) throw new ArchiveLost(`archive ${claim.id} was removed`);
  const next = { number: record.parts, offset: record.bytes };
  const packer = new PartPacker(next, (chunks) => archives.keep(claim, chunks, clock.now()), signal);
  const censuses = await censusesOf(deps, record);
  const checkpoint = await deps.checkpoint();
  const facts = { record, checkpoint: checkpoint !== null, census: censuses.length > 0, vkey: signer?.vkey ?? null };
  await packer.add('README.txt', textChunks(each([archiveReadme(facts)])));
  if (checkpoint !== null) await packer.add('checkpoint.txt', textChunks(each([checkpoint])));
  if (censuses.length > 0) await packer.add('census.json', textChunks(censusTexts(each(censuses))));
  const closing = [...packer.packed.parts];
  const manifest: Uint8Array[] = [];
  const { sha256 } = await packer.add(
    MANIFEST_NAME,
    gathered(writeManifest(archives, { record, closing, checkpoint }), manifest),
  );
  if (signer !== null) {
    const jws = signJws(Buffer.concat(manifest), signer.vkey, (message) => signer.sign(message));
    await packer.add(MANIFEST_JWS_NAME, textChunks(each([jws])));
  }
  const { parts, chunks, bytes } = packer.packed;
  const headers = await headersOf(deps, record, parts);
  const total = bytes + directoryBytes(headers, record.parts + parts.length, bytes);
  const at = clock.now();
  const expiresAt = new Date(Date.parse(at) + KEPT_MS).toISOString();
  await archives.finish(claim, { parts, chunks, bytes: total, manifestHash: sha256, expiresAt }, at);
}

/** By name of assembly: those of which there is a unit here, and there is a census. */
async function censusesOf(deps: ArchiveDeps, { id }: ArchiveRecord): Promise<readonly ArchiveCensus[]> {
  const assemblies = new Set<string>();
  for await (const { assembly, outcome } of everyUnit(deps.archives, id)) {
    if (outcome === 'written') assemblies.add(assembly);
    if (assemblies.size === MOST_CENSUSES) break;
  }
  const censuses: ArchiveCensus[] = [];
  for (const assembly of [...assemblies].sort()) {
    const census = await deps.census(assembly);
    if (census !== undefined) censuses.push(census);
  }
  return censuses;
}

async function* gathered(pieces: AsyncIterable<Uint8Array>, into: Uint8Array[]): AsyncGenerator<Uint8Array> {
  let length = 0;
  for await (const piece of pieces) {
    length += piece.length;
    if (length > MOST_MANIFEST_BYTES) {
      throw new ArchiveImpossible('The archive has too many files to be signed for: ask for fewer units.');
    }
    into.push(piece);
    yield piece;
  }
}

/** Bytes of the directory's headers. */
async function headersOf(
  { archives }: ArchiveDeps,
  { id, requestedAt }: ArchiveRecord,
  closing: readonly ArchivePart[],
): Promise<number> {
  const at = new Date(requestedAt);
  let bytes = closing.reduce((sum, part) => sum + directoryHeader(part, at).length, 0);
  for await (const part of partsOf(archives, id, 0)) bytes += directoryHeader(part, at).length;
  return bytes;
}

async function* each<T>(items: Iterable<T>): AsyncGenerator<T> {
  for (const item of items) yield await Promise.resolve(item);
}
