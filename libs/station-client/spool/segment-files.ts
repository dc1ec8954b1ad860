import { randomBytes } from 'node:crypto';
import { open, readdir, readFile, rename, writeFile } from 'node:fs/promises';
import { join } from 'node:path';

/** A file of the spool. Its name is never used again, so that an old cursor cannot be taken for one into another file. */
export interface Segment {
  readonly name: string;
  /** In this order they are sent. */
  readonly number: number;
}

/** How far the spool is delivered: all before this place is. */
export interface Cursor {
  readonly segment: string;
  /** Bytes. */
  readonly offset: number;
}

const NAME = /^(\d{12})-[0-9a-f]{8}\.spool$/;

/** The segments of a folder in their order. */
export async function listSegments(folder: string): Promise<Segment[]> {
  const found = (await readdir(folder)).flatMap((name) => {
    const segment = segmentOf(name);
    return segment === undefined ? [] : [segment];
  });
  return found.sort((a, b) => a.number - b.number);
}

/** Undefined where it is not the name of a segment. */
export function segmentOf(name: string): Segment | undefined {
  const number = NAME.exec(name)?.[1];
  return number === undefined ? undefined : { name, number: Number(number) };
}

export function newSegment(number: number): Segment {
  return { number, name: `${String(number).padStart(12, '0')}-${randomBytes(4).toString('hex')}.spool` };
}

/** Undefined where there is none that can be read: then everything is sent again, and answered as a duplicate. */
export async function readCursor(folder: string): Promise<Cursor | undefined> {
  try {
    const read = JSON.parse(await readFile(join(folder, 'cursor'), 'utf8')) as Partial<Cursor> | null;
    const { segment, offset } = read ?? {};
    return typeof segment === 'string' && Number.isSafeInteger(offset)
      ? { segment, offset: Number(offset) }
      : undefined;
  } catch {
    return undefined;
  }
}

/** Not flushed: one that is lost costs a repetition and nothing more. */
export async function writeCursor(folder: string, cursor: Cursor): Promise<void> {
  const draft = join(folder, 'cursor.draft');
  await writeFile(draft, `${JSON.stringify(cursor)}\n`);
  await rename(draft, join(folder, 'cursor'));
}

/** Makes a new name in the folder survive a loss of power, where the system knows of such a thing. */
export async function flushFolder(folder: string): Promise<void> {
  if (process.platform === 'win32') return;
  const handle = await open(folder, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
