import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { errorCode } from '../../house/error-code.js';

/** Name to what showed of a file at the look before. */
export type Look = ReadonlyMap<string, string>;

export interface FolderLook {
  readonly look: Look;
  /** Names of files that are as they were at the look before: whoever writes them is done. By name. */
  readonly settled: readonly string[];
}

/** Files that programs write before they give them their name. */
const UNFINISHED = /^[.~]|\.(part|tmp|crdownload)$|~$/i;

/** Looks into a folder. Folders in it and files that are not finished are passed over. @throws as the file system does */
export async function lookInto(folder: string, before: Look): Promise<FolderLook> {
  const look = new Map<string, string>();
  for (const entry of await readdir(folder, { withFileTypes: true })) {
    if (!entry.isFile() || UNFINISHED.test(entry.name)) continue;
    const seen = await shownOf(join(folder, entry.name));
    if (seen !== undefined) look.set(entry.name, seen);
  }
  const settled = [...look].filter(([name, shown]) => before.get(name) === shown).map(([name]) => name);
  return { look, settled: settled.sort() };
}

/** Undefined where it has gone since. */
async function shownOf(path: string): Promise<string | undefined> {
  try {
    const { size, mtimeMs } = await stat(path);
    return `${String(size)} ${String(mtimeMs)}`;
  } catch (error) {
    if (errorCode(error) === 'ENOENT') return undefined;
    throw error;
  }
}
