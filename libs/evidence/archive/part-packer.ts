import { createHash } from 'node:crypto';
import { pipeline } from 'node:stream/promises';
import { crc32, createDeflateRaw } from 'node:zlib';
import { MOST_ARCHIVE_BYTES } from '../../ledger/archives/archive-bounds.js';
import { ArchiveChunk, ArchivePart, CHUNK_BYTES } from '../../ledger/archives/archive-record.js';
import { ArchiveImpossible } from './archive-error.js';
import { endOf } from './zip-format.js';

const DEFLATE = { level: 6, chunkSize: 65_536 };

/** Parts that follow each other in an archive, and those of their chunks that are kept nowhere yet. */
export interface Packed {
  readonly parts: readonly ArchivePart[];
  readonly chunks: readonly ArchiveChunk[];
  /** Where the next part begins. */
  readonly bytes: number;
}

/** Packs files as parts of an archive. In memory it has at most some two chunks, however long the files are. */
export class PartPacker {
  #parts: ArchivePart[] = [];
  #chunks: ArchiveChunk[] = [];
  #waiting = 0;

  /**
   * @param next number of the first part, and where it begins
   * @param keep keeps chunks until their part is entered
   */
  constructor(
    private readonly next: { readonly number: number; readonly offset: number },
    private readonly keep: (chunks: readonly ArchiveChunk[]) => Promise<void>,
    private readonly signal: AbortSignal,
  ) {}

  get packed(): Packed {
    const last = this.#parts.at(-1);
    return { parts: this.#parts, chunks: this.#chunks, bytes: last === undefined ? this.next.offset : endOf(last) };
  }

  /** Packs a file. @throws whatever its content does, or the reason of the signal */
  async add(name: string, content: AsyncIterable<Uint8Array>): Promise<ArchivePart> {
    const number = this.next.number + this.#parts.length;
    const offset = this.packed.bytes;
    const figures = { crc32: 0, bytes: 0, packedBytes: 0, sha256: createHash('sha256') };
    const deflate = createDeflateRaw(DEFLATE);
    const fed = pipeline(measured(content, figures, this.signal), deflate);
    // What it fails with, reading fails with too.
    fed.catch(() => undefined);
    let chunks = 0;
    for await (const bytes of inChunks(deflate as AsyncIterable<Buffer>)) {
      figures.packedBytes += bytes.length;
      if (offset + figures.packedBytes > MOST_ARCHIVE_BYTES) throw tooLarge();
      await this.#take({ part: number, number: chunks, bytes });
      chunks += 1;
    }
    await fed;
    const part = { ...figures, number, name, offset, sha256: figures.sha256.digest('hex') };
    this.#parts.push(part);
    return part;
  }

  async #take(chunk: ArchiveChunk): Promise<void> {
    this.#chunks.push(chunk);
    this.#waiting += chunk.bytes.length;
    if (this.#waiting < CHUNK_BYTES) return;
    await this.keep(this.#chunks);
    this.#chunks = [];
    this.#waiting = 0;
  }
}

interface Figures {
  crc32: number;
  bytes: number;
  readonly sha256: ReturnType<typeof createHash>;
}

async function* measured(
  content: AsyncIterable<Uint8Array>,
  figures: Figures,
  signal: AbortSignal,
): AsyncGenerator<Uint8Array> {
  for await (const piece of content) {
    signal.throwIfAborted();
    figures.crc32 = crc32(piece, figures.crc32);
    figures.bytes += piece.length;
    figures.sha256.update(piece);
    yield piece;
  }
}

/** Pieces of CHUNK_BYTES, but for the last. */
async function* inChunks(pieces: AsyncIterable<Buffer>): AsyncGenerator<Uint8Array> {
  let gathered: Buffer[] = [];
  let length = 0;
  for await (const piece of pieces) {
    let rest = piece;
    while (length + rest.length >= CHUNK_BYTES) {
      const fitting = CHUNK_BYTES - length;
      yield Buffer.concat([...gathered, rest.subarray(0, fitting)]);
      rest = rest.subarray(fitting);
      gathered = [];
      length = 0;
    }
    if (rest.length > 0) gathered.push(rest);
    length += rest.length;
  }
  if (length > 0) yield Buffer.concat(gathered);
}

function tooLarge(): ArchiveImpossible {
  const most = `${String(MOST_ARCHIVE_BYTES / 2 ** 30)} GiB`;
  return new ArchiveImpossible(`The archive would be larger than ${most}: ask for fewer units, or for fewer formats.`);
}
