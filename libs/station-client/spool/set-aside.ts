import { open } from 'node:fs/promises';
import { join } from 'node:path';
import type { Problem } from '../errors.js';
import { fileTrouble } from './file-trouble.js';

/** An event that Heatbook turned away. */
export interface Rejected {
  /** As it was posted. */
  readonly event: Readonly<Record<string, unknown>>;
  /** Why, and what would mend it. */
  readonly problem: Problem;
}

/** Where events that were turned away stand: a JSON object a line, with `at`, `problem` and `event`. */
export function setAsideFile(folder: string): string {
  return join(folder, 'set-aside.ndjson');
}

/**
 * Appends to the file; resolves when that is on the disk. After a crash at the wrong moment one may stand there twice.
 * @throws SpoolFull, SpoolBroken
 */
export async function setAside(folder: string, rejected: readonly Rejected[]): Promise<void> {
  const at = new Date().toISOString();
  const lines = rejected.map(({ event, problem }) => `${JSON.stringify({ at, problem, event })}\n`).join('');
  try {
    const handle = await open(setAsideFile(folder), 'a+');
    try {
      const { size } = await handle.stat();
      const { buffer } = await handle.read(Buffer.alloc(1), 0, 1, Math.max(0, size - 1));
      // A line that a crash or a full disk has cut off is not to be joined to the next.
      const isCut = size > 0 && buffer[0] !== 0x0a;
      await handle.appendFile(isCut ? `\n${lines}` : lines);
      await handle.datasync();
    } finally {
      await handle.close();
    }
  } catch (error) {
    throw fileTrouble(error, 'setting aside what was rejected', folder);
  }
}
