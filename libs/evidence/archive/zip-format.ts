import { ArchivePart } from '../../ledger/archives/archive-record.js';

/** The figures of a part that ZIP wants to know. */
export type ZipPart = Pick<ArchivePart, 'name' | 'crc32' | 'bytes' | 'packedBytes' | 'offset'>;

/** Signatures and figures from PKWARE's APPNOTE.TXT 6.3.x, sections 4.3 and 4.5.3; from memory, proven by another reader. */
const LOCAL = 0x04034b50;
const CENTRAL = 0x02014b50;
const END = 0x06054b50;
const END_64 = 0x06064b50;
const LOCATOR_64 = 0x07064b50;
const LOCAL_BYTES = 30;
const CENTRAL_BYTES = 46;
const END_BYTES = 22;
const END_64_BYTES = 56;
const LOCATOR_64_BYTES = 20;

const DEFLATED = 8;
/** Bit 11: names are UTF-8. Sizes stand in the header, since a part is complete before it is listed: bit 3 stays off. */
const FLAGS = 0x0800;
const NEEDS = 20;
const NEEDS_64 = 45;
/** Made on Unix, so that the permissions below are taken as such. */
const MADE_BY = (3 << 8) | NEEDS_64;
const READ_BY_ALL = (0o100644 << 16) >>> 0;
const MOST_16 = 0xffff;
const MOST_32 = 0xffffffff;
const ZIP_64_EXTRA = 0x0001;

/** What stands before the packed content of a part. `at` is its time. */
export function localHeader(part: ZipPart, at: Date): Uint8Array {
  const { name, bytes, packedBytes } = part;
  const extra = isLong(part) ? extra64([bytes, packedBytes]) : Buffer.alloc(0);
  const head = Buffer.alloc(LOCAL_BYTES);
  head.writeUInt32LE(LOCAL, 0);
  writeFigures(head.subarray(4), part, at);
  head.writeUInt16LE(extra.length, 28);
  return Buffer.concat([head, Buffer.from(name, 'utf8'), extra]);
}

/** Where the packed content of a part ends, in the archive: the next part may begin there. */
export function endOf(part: ZipPart): number {
  return contentAt(part) + part.packedBytes;
}

/** Where the packed content of a part begins. */
export function contentAt(part: ZipPart): number {
  return part.offset + LOCAL_BYTES + Buffer.byteLength(part.name) + (isLong(part) ? extra64([0, 0]).length : 0);
}

/** What the directory at the end of the archive says of a part. */
export function directoryHeader(part: ZipPart, at: Date): Uint8Array {
  const { name, bytes, packedBytes, offset } = part;
  const far = offset >= MOST_32;
  const figures = [...(isLong(part) ? [bytes, packedBytes] : []), ...(far ? [offset] : [])];
  const extra = figures.length > 0 ? extra64(figures) : Buffer.alloc(0);
  const head = Buffer.alloc(CENTRAL_BYTES);
  head.writeUInt32LE(CENTRAL, 0);
  head.writeUInt16LE(MADE_BY, 4);
  writeFigures(head.subarray(6), part, at);
  if (far) head.writeUInt16LE(NEEDS_64, 6);
  head.writeUInt16LE(extra.length, 30);
  head.writeUInt32LE(READ_BY_ALL, 38);
  head.writeUInt32LE(Math.min(offset, MOST_32), 42);
  return Buffer.concat([head, Buffer.from(name, 'utf8'), extra]);
}

/**
 * What ends the archive.
 * @param parts how many the directory lists
 * @param from where it begins, in the archive
 * @param bytes how long it is
 */
export function directoryEnd({ parts, from, bytes }: { parts: number; from: number; bytes: number }): Uint8Array {
  const end = Buffer.alloc(END_BYTES);
  end.writeUInt32LE(END, 0);
  end.writeUInt16LE(Math.min(parts, MOST_16), 8);
  end.writeUInt16LE(Math.min(parts, MOST_16), 10);
  end.writeUInt32LE(Math.min(bytes, MOST_32), 12);
  end.writeUInt32LE(Math.min(from, MOST_32), 16);
  if (parts < MOST_16 && bytes < MOST_32 && from < MOST_32) return end;
  const end64 = Buffer.alloc(END_64_BYTES);
  end64.writeUInt32LE(END_64, 0);
  // Without the first twelve bytes.
  writeLong(end64, END_64_BYTES - 12, 4);
  end64.writeUInt16LE(MADE_BY, 12);
  end64.writeUInt16LE(NEEDS_64, 14);
  [parts, parts, bytes, from].forEach((figure, n) => {
    writeLong(end64, figure, 24 + 8 * n);
  });
  const locator = Buffer.alloc(LOCATOR_64_BYTES);
  locator.writeUInt32LE(LOCATOR_64, 0);
  writeLong(locator, from + bytes, 8);
  // One disk.
  locator.writeUInt32LE(1, 16);
  return Buffer.concat([end64, locator, end]);
}

/** The figures that both headers share, from the version needed up to the length of the name. */
function writeFigures(head: Buffer, part: ZipPart, at: Date): void {
  const long = isLong(part);
  head.writeUInt16LE(long ? NEEDS_64 : NEEDS, 0);
  head.writeUInt16LE(FLAGS, 2);
  head.writeUInt16LE(DEFLATED, 4);
  head.writeUInt16LE((at.getUTCHours() << 11) | (at.getUTCMinutes() << 5) | (at.getUTCSeconds() >> 1), 6);
  head.writeUInt16LE(((at.getUTCFullYear() - 1980) << 9) | ((at.getUTCMonth() + 1) << 5) | at.getUTCDate(), 8);
  head.writeUInt32LE(part.crc32, 10);
  head.writeUInt32LE(long ? MOST_32 : part.packedBytes, 14);
  head.writeUInt32LE(long ? MOST_32 : part.bytes, 18);
  head.writeUInt16LE(Buffer.byteLength(part.name), 22);
}

function isLong({ bytes, packedBytes }: ZipPart): boolean {
  return bytes >= MOST_32 || packedBytes >= MOST_32;
}

/** The figures that did not fit where they belong, in the order of APPNOTE 4.5.3. */
function extra64(figures: readonly number[]): Buffer {
  const extra = Buffer.alloc(4 + 8 * figures.length);
  extra.writeUInt16LE(ZIP_64_EXTRA, 0);
  extra.writeUInt16LE(8 * figures.length, 2);
  figures.forEach((figure, n) => {
    writeLong(extra, figure, 4 + 8 * n);
  });
  return extra;
}

function writeLong(target: Buffer, figure: number, at: number): void {
  target.writeBigUInt64LE(BigInt(figure), at);
}
