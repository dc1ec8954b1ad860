import { open } from 'node:fs/promises';
import { join } from 'node:path';
import { SpoolBroken } from '../errors.js';
import { Cursor, Segment } from './segment-files.js';
import { decodeLines, SpoolRecord } from './spool-record.js';

/** A segment with records that are not settled, or not read yet. */
export interface Stretch {
  readonly segment: Segment;
  /** End of what is on the disk for certain, bytes. */
  end: number;
}

/** Records that are next in line. */
export interface SpoolBatch {
  readonly records: readonly SpoolRecord[];
  /** That they take on the disk. */
  readonly bytes: number;
  /** Where the spool stands once they are settled. */
  readonly next: Cursor;
}

export interface Wanted {
  readonly maxEvents: number;
  /** Of their JSON, with one byte between two; one record is given however long it is. */
  readonly maxBytes: number;
}

const CHUNK_BYTES = 1024 * 1024;
const SMALL_CHUNK_BYTES = 64 * 1024;

/**
 * Reads records from a place on, through as many segments as it takes. Undefined where there are none.
 * @param offset in the first stretch, at the beginning of a line
 * @param onDamaged is told of lines that do not fit their checksum; they are passed over
 */
export async function readRecords(
  folder: string,
  stretches: readonly Stretch[],
  offset: number,
  wanted: Wanted,
  onDamaged: (segment: string, at: number, text: string) => Promise<void>,
): Promise<SpoolBatch | undefined> {
  const records: SpoolRecord[] = [];
  let [bytes, jsonBytes, skipped] = [0, 0, 0];
  let next: Cursor | undefined;
  for (const [n, { segment, end }] of stretches.entries()) {
    const { name } = segment;
    for await (const { line, at } of linesOf(join(folder, name), n === 0 ? offset : 0, end, wanted)) {
      if (!line.ok) {
        skipped += line.bytes;
        await onDamaged(name, at, line.text);
        continue;
      }
      jsonBytes += Buffer.byteLength(line.record.json) + 1;
      const isFull = records.length >= wanted.maxEvents || jsonBytes > wanted.maxBytes;
      if (isFull && next !== undefined) return { records, bytes, next };
      records.push(line.record);
      bytes += skipped + line.bytes;
      skipped = 0;
      next = { segment: name, offset: at + line.bytes };
    }
  }
  return next === undefined ? undefined : { records, bytes, next };
}

async function* linesOf(file: string, from: number, end: number, { maxEvents }: Wanted) {
  if (from >= end) return;
  const handle = await open(file, 'r');
  try {
    let chunkBytes = maxEvents > 1 ? CHUNK_BYTES : SMALL_CHUNK_BYTES;
    for (let at = from; at < end;) {
      const length = Math.min(chunkBytes, end - at);
      const { bytesRead, buffer } = await handle.read(Buffer.alloc(length), 0, length, at);
      const lines = decodeLines(buffer.subarray(0, bytesRead));
      if (lines.length === 0 && (bytesRead < length || length < chunkBytes)) {
        throw new SpoolBroken(`${file} ends before its last record: something else has changed it.`);
      }
      // A line that is longer than the chunk.
      if (lines.length === 0) chunkBytes *= 2;
      for (const line of lines) {
        yield { line, at };
        at += line.bytes;
      }
    }
  } finally {
    await handle.close();
  }
}
