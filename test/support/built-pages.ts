import { execFile } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';

/** The pages of the dashboard, built anew into a folder of their own. */
export interface BuiltPages {
  readonly folder: string;
  remove(): Promise<void>;
}

/** Builds the pages as `npm run build` does. */
export async function builtPages(): Promise<BuiltPages> {
  const folder = await mkdtemp(join(tmpdir(), 'heatbook-pages-'));
  const build = ['node_modules/vite/bin/vite.js', 'build', '--outDir', folder, '--emptyOutDir', '--logLevel', 'warn'];
  await promisify(execFile)(process.execPath, build);
  return { folder, remove: () => rm(folder, { recursive: true }) };
}
