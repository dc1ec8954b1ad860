import { constants } from 'node:fs';
import { copyFile, type FileHandle, open, rm, stat } from 'node:fs/promises';

const ROTATE_BYTES = 10 * 1024 * 1024;
const READ_BYTES = 64 * 1024;
const QUOTED_LINES = 3;

/**
 * Opens the log to write at its end. Links are not followed here: the folder belongs to the server's account, and what
 * that account puts there must not lead a root process elsewhere.
 */
export function openLog(path: string): Promise<FileHandle> {
  return open(path, constants.O_WRONLY | constants.O_APPEND | constants.O_CREAT | constants.O_NOFOLLOW, 0o600);
}

/** Keeps the log and one older part of it. Postgres appends, so the file can be emptied while it is being written. */
export async function rotateLog(path: string): Promise<void> {
  if ((await logSize(path)) < ROTATE_BYTES) return;
  await rm(`${path}.1`, { force: true });
  await copyFile(path, `${path}.1`, constants.COPYFILE_EXCL);
  const file = await openLog(path);
  try {
    await file.truncate();
  } finally {
    await file.close();
  }
}

export async function logSize(path: string): Promise<number> {
  return (await stat(path).catch(() => undefined))?.size ?? 0;
}

/**
 * What Postgres last complained about, on one line: the messages of its last fatal lines after a position in the log,
 * else simply the last lines.
 */
export async function lastComplaint(path: string, fromByte: number): Promise<string> {
  const lines = (await readFrom(path, fromByte)).split('\n').filter((line) => line.trim() !== '');
  const severe = lines.filter((line) => /\b(FATAL|PANIC|HINT|error):/.test(line));
  return (severe.length > 0 ? severe : lines)
    .slice(-QUOTED_LINES)
    .map((line) => line.replace(/^.*?\b(?=(FATAL|PANIC|HINT|LOG|error):)/, '').replace(/\s+/g, ' '))
    .join(' / ');
}

async function readFrom(path: string, fromByte: number): Promise<string> {
  const file = await open(path, 'r');
  try {
    const { size } = await file.stat();
    const start = Math.max(fromByte, size - READ_BYTES);
    const { buffer, bytesRead } = await file.read(Buffer.alloc(Math.max(size - start, 0)), { position: start });
    return buffer.subarray(0, bytesRead).toString('utf8');
  } finally {
    await file.close();
  }
}
