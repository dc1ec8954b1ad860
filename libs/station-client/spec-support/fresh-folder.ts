import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const folders: string[] = [];

/** A folder of one's own, until `removeFolders`. */
export async function freshFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'heatbook-station-'));
  folders.push(folder);
  return folder;
}

export async function removeFolders(): Promise<void> {
  for (const folder of folders.splice(0)) await rm(folder, { recursive: true, force: true });
}
