import { ArchivePart, ArchiveRecord, CHUNK_BYTES } from '../../ledger/archives/archive-record.js';
import { ArchiveStore } from '../../ledger/ports/archive-store.js';
import { contentAt, directoryEnd, directoryHeader, endOf, localHeader } from './zip-format.js';

type Shelf = Pick<ArchiveStore, 'parts' | 'partAt' | 'chunk'>;

const PAGE = 500;

/**
 * Bytes of an archive that is done: from one place, inclusive, to another, exclusive. Reads no more of what is kept than it
 * gives, and one chunk at a time.
 * @throws Error where the archive is removed meanwhile: what was read then ends early
 */
export async function* archiveBytes(
  shelf: Shelf,
  { id, bytes, requestedAt }: Pick<ArchiveRecord, 'id' | 'bytes' | 'requestedAt'>,
  from = 0,
  to = bytes,
): AsyncGenerator<Uint8Array> {
  const at = new Date(requestedAt);
  const last = await shelf.partAt(id, bytes);
  if (last === undefined) throw removed(id);
  const window = new Window(from, to);
  if (from < endOf(last)) {
    const first = await shelf.partAt(id, from);
    for await (const part of partsOf(shelf, id, first?.number ?? 0)) {
      if (window.isPast(part.offset)) return;
      yield* window.show(localHeader(part, at), part.offset);
      yield* contentOf(shelf, id, part, window);
    }
  }
  if (window.isPast(endOf(last))) return;
  yield* directoryOf(shelf, id, at, last, window);
}

/** How long the directory at the end of the archive is. @param headers bytes of its headers */
export function directoryBytes(headers: number, parts: number, from: number): number {
  return headers + directoryEnd({ parts, from, bytes: headers }).length;
}

async function* contentOf(shelf: Shelf, id: string, part: ArchivePart, window: Window): AsyncGenerator<Uint8Array> {
  const start = contentAt(part);
  const first = Math.floor(Math.max(0, window.from - start) / CHUNK_BYTES);
  for (let number = first; number * CHUNK_BYTES < part.packedBytes; number += 1) {
    const place = start + number * CHUNK_BYTES;
    if (window.isPast(place)) return;
    const chunk = await shelf.chunk(id, part.number, number);
    if (chunk === undefined) throw removed(id);
    yield* window.show(chunk, place);
  }
}

async function* directoryOf(
  shelf: Shelf,
  id: string,
  at: Date,
  last: ArchivePart,
  window: Window,
): AsyncGenerator<Uint8Array> {
  const from = endOf(last);
  let place = from;
  for await (const part of partsOf(shelf, id, 0)) {
    const header = directoryHeader(part, at);
    yield* window.show(header, place);
    place += header.length;
  }
  const end = directoryEnd({ parts: last.number + 1, from, bytes: place - from });
  yield* window.show(end, place);
}

/** Parts of an archive from a number on, in order. */
export async function* partsOf(shelf: Pick<Shelf, 'parts'>, id: string, from: number): AsyncGenerator<ArchivePart> {
  for (let next = from; ;) {
    const page = await shelf.parts(id, next, PAGE);
    yield* page;
    if (page.length < PAGE) return;
    next += page.length;
  }
}

/** What is to be seen of the archive. */
class Window {
  constructor(
    readonly from: number,
    private readonly to: number,
  ) {}

  isPast(place: number): boolean {
    return place >= this.to;
  }

  /** The part of these bytes that is within, if any; they stand at this place in the archive. */
  *show(bytes: Uint8Array, place: number): Generator<Uint8Array> {
    const seen = bytes.subarray(Math.max(0, this.from - place), Math.max(0, this.to - place));
    if (seen.length > 0) yield seen;
  }
}

function removed(id: string): Error {
  return new Error(`Archive ${id} was removed while it was read.`);
}
