import { foldedPath, nthPath, safeName } from '../../ledger/archives/archive-paths.js';
import { AuditSource } from '../../ledger/audits/audit-source.js';
import { ArchiveStore } from '../../ledger/ports/archive-store.js';
import { PartPacker } from './part-packer.js';

const EXTENSION = '.csv';

/**
 * Packs the traces that a unit's steps name and that are not in the archive yet, as the bytes that were uploaded.
 * @throws Error where one is no longer what was hashed
 */
export async function packTraces(
  archives: Pick<ArchiveStore, 'partFolded'>,
  id: string,
  packer: PartPacker,
  source: AuditSource,
): Promise<void> {
  for (const { name, contentHash } of source.traces) {
    const file = await freeName(archives, id, packer, name);
    if (file === undefined) continue;
    const trace = await source.trace(name);
    if (trace === undefined) throw new Error(`Trace ${name} is not to be had.`);
    const { sha256 } = await packer.add(file, onePiece(Buffer.from(trace.csv, trace.encoding)));
    if (sha256 !== contentHash) {
      throw new Error(
        `Trace ${name} is not what was uploaded: whoever runs the service must look for what changed the table trace.`,
      );
    }
  }
}

/** What a trace is to be called in the archive; undefined where it is there already. */
async function freeName(
  archives: Pick<ArchiveStore, 'partFolded'>,
  id: string,
  packer: PartPacker,
  trace: string,
): Promise<string | undefined> {
  const path = `traces/${safeName(trace)}`;
  for (let n = 1; ; n += 1) {
    const file = `${nthPath(path, n)}${EXTENSION}`;
    const folded = foldedPath(file);
    const taken =
      packer.packed.parts.find(({ name }) => foldedPath(name) === folded) ?? (await archives.partFolded(id, folded));
    if (taken === undefined) return file;
    // Another trace may differ from this one by capitals alone.
    if (taken.name === file) return undefined;
  }
}

async function* onePiece(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  yield await Promise.resolve(bytes);
}
