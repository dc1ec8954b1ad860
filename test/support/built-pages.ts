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
  for (const [page, place] of [
    ['verify', folder],
    ['desk', join(folder, 'desk')],
  ] as const) {
    const config = ['-c', `apps/dashboard/${page}/vite.config.ts`];
    const into = ['--outDir', place, '--emptyOutDir', '--logLevel', 'warn'];
    const build = ['node_modules/vite/bin/vite.js', 'build', ...config, ...into];
    // Jest says "test", for which libraries are built with what helps their own tests.
    await promisify(execFile)(process.execPath, build, { env: { ...process.env, NODE_ENV: 'production' } });
  }
  return { folder, remove: () => rm(folder, { recursive: true }) };
}
