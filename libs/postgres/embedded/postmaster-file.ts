import { readFile } from 'node:fs/promises';
import { join } from 'node:path';

/** What Postgres writes about itself into its data folder: line 1 the process, line 4 the port, line 8 the state. */
export interface PostmasterFile {
  readonly pid: number;
  readonly port: number;
  readonly ready: boolean;
}

/** The content of postmaster.pid, or undefined when there is none or it is still being written. */
export async function readPostmasterFile(clusterFolder: string): Promise<PostmasterFile | undefined> {
  const text = await readFile(join(clusterFolder, 'postmaster.pid'), 'utf8').catch(() => '');
  const lines = text.split('\n').map((line) => line.trim());
  const pid = Number(lines[0]);
  if (!Number.isInteger(pid) || pid <= 0) return undefined;
  return { pid, port: Number(lines[3]), ready: lines[7] === 'ready' };
}
