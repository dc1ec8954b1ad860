import { open, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Segment } from './segment-files.js';
import { decodeLines } from './spool-record.js';

/** What a segment that an earlier process wrote holds from some place on. */
export interface Scan {
  /** End of its last whole line, bytes. What a crash has left behind that was never acknowledged. */
  readonly end: number;
  readonly events: number;
  /** Files with lines that were whole once and are damaged. */
  readonly damaged: readonly string[];
}

const CHUNK_BYTES = 1024 * 1024;

/**
 * Counts the records of a segment from a place on. A line that does not fit its checksum is copied to a file `damaged-…` of the
 * folder, each to the same file however often it is found.
 */
export async function scanSegment(folder: string, { name }: Segment, from: number): Promise<Scan> {
  const handle = await open(join(folder, name), 'r');
  const scan = { end: from, events: 0, damaged: [] as string[] };
  try {
    for (let chunkBytes = CHUNK_BYTES; ;) {
      const { bytesRead, buffer } = await handle.read(Buffer.alloc(chunkBytes), 0, chunkBytes, scan.end);
      const lines = decodeLines(buffer.subarray(0, bytesRead));
      for (const line of lines) {
        if (line.ok) scan.events += 1;
        else scan.damaged.push(await keepDamaged(folder, name, scan.end, line.text));
        scan.end += line.bytes;
      }
      if (bytesRead < chunkBytes) return scan;
      // A line that is longer than the chunk.
      if (lines.length === 0) chunkBytes *= 2;
    }
  } finally {
    await handle.close();
  }
}

/**
 * Keeps a line that cannot be read for a person to look at.
 * @returns the file
 */
export async function keepDamaged(folder: string, segment: string, at: number, text: string): Promise<string> {
  const file = join(folder, `damaged-${segment}-${String(at)}.txt`);
  await writeFile(file, text);
  return file;
}
