import { Reader, ZipReader, type FileEntry } from '@zip.js/zip.js';
import type { RandomAccess } from './random-access.js';
import { ofTheFile, type Finding } from './verification-report.js';

/** Files of one archive that are looked at. */
const MOST_FILES = 200_000;
/** Bytes of one file: what fits into one text of JavaScript. */
export const MOST_FILE_BYTES = 2 ** 29 - 2 ** 16;
/** Nothing that is exported packs better than this; more is made to fill a memory. */
const MOST_RATIO = 250;
const SMALL_BYTES = 2 ** 24;

export interface ArchiveFile {
  readonly name: string;
  /** As the archive states it; what does not unpack to it is not read. */
  readonly bytes: number;
  /** @throws Error in words, where it cannot be unpacked */
  readonly content: () => Promise<Uint8Array>;
}

/** An archive whose directory can be read, or why it cannot. */
export type OpenedArchive =
  | { readonly files: readonly ArchiveFile[]; readonly finding: null }
  | { readonly files: null; readonly finding: Finding };

class ZipSource extends Reader<RandomAccess> {
  constructor(private readonly source: RandomAccess) {
    super(source);
    this.size = source.size;
  }

  override readUint8Array(index: number, length: number): Promise<Uint8Array> {
    return this.source.read(index, Math.min(length, this.size - index));
  }
}

/** Lists an archive. Whatever two readers of ZIP could take differently is refused: names twice, bytes that belong to nothing. */
export async function openArchive(source: RandomAccess): Promise<OpenedArchive> {
  const strict = { strictness: 'strict', checkOverlappingEntry: true, checkCrc32: true, useWebWorkers: false } as const;
  const reader = new ZipReader(new ZipSource(source), strict);
  const files: ArchiveFile[] = [];
  try {
    for await (const entry of reader.getEntriesGenerator()) {
      if (files.length === MOST_FILES) throw new Error(`it has more than ${MOST_FILES} files`);
      if (entry.directory) throw new Error(`it has a folder of its own, ${entry.filename}`);
      if (entry.encrypted) throw new Error(`${entry.filename} is encrypted`);
      files.push({ name: entry.filename, bytes: entry.uncompressedSize, content: () => unpack(entry) });
    }
    return { files, finding: null };
  } catch (error) {
    return { files: null, finding: await findingOn(error, source) };
  }
}

async function unpack(entry: FileEntry): Promise<Uint8Array> {
  const { filename, uncompressedSize, compressedSize } = entry;
  if (uncompressedSize > MOST_FILE_BYTES) throw new Error(`${filename} has more than ${MOST_FILE_BYTES} bytes`);
  if (uncompressedSize > SMALL_BYTES && uncompressedSize > MOST_RATIO * compressedSize) {
    throw new Error(`${filename} unpacks to more than ${MOST_RATIO} times its size`);
  }
  const bytes = new Uint8Array(uncompressedSize);
  let at = 0;
  const sink = new WritableStream<Uint8Array>({
    write(piece) {
      if (at + piece.length > bytes.length) throw new Error(`${filename} unpacks to more than it states`);
      bytes.set(piece, at);
      at += piece.length;
    },
  });
  await entry.getData(sink);
  if (at !== bytes.length) throw new Error(`${filename} unpacks to less than it states`);
  return bytes;
}

async function findingOn(error: unknown, source: RandomAccess): Promise<Finding> {
  const { message, reason, filename } = detailsOf(error);
  if (/End of central directory not found|not recognized/i.test(message)) {
    return ofTheFile('archive-cut', 'The archive has no directory at its end: it was cut off, or is no archive.');
  }
  if (reason === 'duplicate filename') return fileTwice(source);
  if (filename !== undefined) {
    return ofTheFile('archive-unsafe', `The archive has a file whose name leads elsewhere: ${filename}.`);
  }
  return ofTheFile('archive-unsafe', `The archive is not one that everybody reads alike: ${reason ?? message}.`);
}

/** Reads the directory once more, to say which name it was. */
async function fileTwice(source: RandomAccess): Promise<Finding> {
  const seen = new Set<string>();
  try {
    for await (const { filename } of new ZipReader(new ZipSource(source)).getEntriesGenerator()) {
      if (seen.has(filename)) return ofTheFile('file-twice', `${filename} stands in the archive twice.`);
      seen.add(filename);
    }
  } catch {
    // The names read so far did not tell.
  }
  return ofTheFile('file-twice', 'A file stands in the archive twice.');
}

/** What the reader of ZIP says besides its message. */
function detailsOf(error: unknown): { message: string; reason: string | undefined; filename: string | undefined } {
  if (!(error instanceof Error)) return { message: String(error), reason: undefined, filename: undefined };
  return { message: error.message, reason: textAt(error, 'reason'), filename: textAt(error, 'filename') };
}

function textAt(error: Error, name: string): string | undefined {
  const value: unknown = Reflect.get(error, name);
  return typeof value === 'string' ? value : undefined;
}
