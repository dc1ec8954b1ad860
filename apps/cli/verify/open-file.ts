import { open, type FileHandle } from 'node:fs/promises';
import { buffer } from 'node:stream/consumers';
import { inMemory, type RandomAccess } from '../../../libs/evidence/verify/random-access.js';

/** A file that can be read in places, until it is closed. */
export interface OpenedFile extends RandomAccess {
  close(): Promise<void>;
}

/**
 * Opens a file to be read in places; `-` reads standard input into memory.
 * @throws Error as the file system does
 */
export async function openFile(path: string): Promise<OpenedFile> {
  if (path === '-') return { ...inMemory(await buffer(process.stdin)), close: () => Promise.resolve() };
  const file = await open(path);
  const found = await file.stat();
  if (found.isFile())
    return { size: found.size, read: (offset, length) => readAt(file, offset, length), close: () => file.close() };
  // A pipe or a device has no places.
  const all = inMemory(await file.readFile());
  return { ...all, close: () => file.close() };
}

async function readAt(file: FileHandle, offset: number, length: number): Promise<Uint8Array> {
  const bytes = new Uint8Array(length);
  let got = 0;
  while (got < length) {
    const { bytesRead } = await file.read(bytes, got, length - got, offset + got);
    if (bytesRead === 0) break;
    got += bytesRead;
  }
  return bytes.subarray(0, got);
}
