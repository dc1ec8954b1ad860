import { crc32, deflateRawSync } from 'node:zlib';
import { Reader, Uint8ArrayReader, Uint8ArrayWriter, ZipReader } from '@zip.js/zip.js';
import { ArchivePart, CHUNK_BYTES } from '../../ledger/archives/archive-record.js';
import { archiveBytes, directoryBytes } from './archive-bytes.js';
import { directoryHeader, endOf } from './zip-format.js';

const CONTENT = Buffer.from('what is in each small file, again and again and again');
const PACKED = deflateRawSync(CONTENT);
const REQUESTED_AT = '2030-01-08T10:00:02.000Z';
const GIB = 2 ** 30;

type Figures = Pick<ArchivePart, 'bytes' | 'packedBytes'>;
const SMALL: Figures = { bytes: CONTENT.length, packedBytes: PACKED.length };

/** An archive of parts of these sizes, of which the small ones can be read. */
function shelfOf(figures: readonly Figures[]) {
  const parts: ArchivePart[] = [];
  let offset = 0;
  for (const [number, own] of figures.entries()) {
    const part = { ...own, number, name: `f/${String(number)}.txt`, crc32: crc32(CONTENT), offset, sha256: '' };
    parts.push(part);
    offset = endOf(part);
  }
  const at = new Date(REQUESTED_AT);
  const headers = parts.reduce((sum, part) => sum + directoryHeader(part, at).length, 0);
  const record = {
    id: 'none',
    requestedAt: REQUESTED_AT,
    bytes: offset + directoryBytes(headers, parts.length, offset),
  };
  const shelf = {
    parts: (_id: string, from: number, limit: number) => Promise.resolve(parts.slice(from, from + limit)),
    partAt: (_id: string, place: number) => Promise.resolve(parts.findLast((part) => part.offset <= place)),
    chunk: (_id: string, number: number, chunk: number) => {
      const left = (parts[number]?.packedBytes ?? 0) - chunk * CHUNK_BYTES;
      return Promise.resolve(left === PACKED.length ? PACKED : Buffer.alloc(Math.min(left, CHUNK_BYTES)));
    },
  };
  return { shelf, record };
}

/** Reads stretches of an archive that is nowhere as a whole. */
class Stretches extends Reader<ReturnType<typeof shelfOf>> {
  constructor(private readonly archive: ReturnType<typeof shelfOf>) {
    super(archive);
    this.size = archive.record.bytes;
  }

  override async readUint8Array(from: number, length: number): Promise<Uint8Array> {
    const { shelf, record } = this.archive;
    const pieces: Uint8Array[] = [];
    for await (const piece of archiveBytes(shelf, record, from, Math.min(from + length, record.bytes))) {
      pieces.push(piece);
    }
    return Buffer.concat(pieces);
  }
}

async function entriesOf(figures: readonly Figures[]) {
  const reader = new ZipReader(new Stretches(shelfOf(figures)), { checkSignature: true, useWebWorkers: false });
  return reader.getEntries();
}

describe('the form of an archive, to another reader', () => {
  it('gives names, sizes and the time of every file', async () => {
    const [first, second] = await entriesOf([SMALL, SMALL]);
    expect(first).toMatchObject({
      ...{ filename: 'f/0.txt', directory: false, compressionMethod: 8, signature: crc32(CONTENT), zip64: false },
      ...{ uncompressedSize: CONTENT.length, compressedSize: PACKED.length, offset: 0, filenameUTF8: true },
    });
    expect(second?.rawLastModDate).toBe(((2030 - 1980) << 25) | (1 << 21) | (8 << 16) | (10 << 11) | 1);
    if (second?.directory !== false) throw new Error('the second is no file');
    expect(Buffer.from(await second.getData(new Uint8ArrayWriter()))).toEqual(CONTENT);
  });

  it('holds more files than the directory of a short archive can count', async () => {
    const archive = shelfOf(Array.from({ length: 66_000 }, () => SMALL));
    const whole = await new Stretches(archive).readUint8Array(0, archive.record.bytes);
    const entries = await new ZipReader(new Uint8ArrayReader(whole)).getEntries();
    expect(entries).toHaveLength(66_000);
    expect(entries.at(-1)?.filename).toBe('f/65999.txt');
  });

  it('holds files of more than four gibibytes, and files behind them', async () => {
    const large = { bytes: 9 * GIB, packedBytes: 5 * GIB };
    const [first, second, third] = await entriesOf([large, SMALL, { bytes: 5 * GIB, packedBytes: 4_000 }]);
    expect(first).toMatchObject({ uncompressedSize: large.bytes, compressedSize: large.packedBytes, offset: 0 });
    expect(second).toMatchObject({ uncompressedSize: CONTENT.length });
    expect(second?.offset).toBeGreaterThan(5 * GIB);
    expect(third).toMatchObject({ uncompressedSize: 5 * GIB, compressedSize: 4_000 });
    if (second?.directory !== false) throw new Error('the second is no file');
    expect(Buffer.from(await second.getData(new Uint8ArrayWriter()))).toEqual(CONTENT);
  });

  it.each([0xfffffffe, 0xffffffff, 0x100000000])('has no gap at the edge of what 32 bits hold: %d', async (bytes) => {
    const [first, second] = await entriesOf([{ bytes, packedBytes: bytes }, SMALL]);
    expect(first).toMatchObject({ uncompressedSize: bytes, compressedSize: bytes });
    if (second?.directory !== false) throw new Error('the second is no file');
    expect(Buffer.from(await second.getData(new Uint8ArrayWriter()))).toEqual(CONTENT);
  });
});
