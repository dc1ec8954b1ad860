import { execFile } from 'node:child_process';
import { access, readFile, symlink } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { basename, dirname, join } from 'node:path';
import { promisify } from 'node:util';
import { canReach } from './can-reach.js';
import { copyBinaries } from './copy-binaries.js';
import { EmbeddedPostgresError, errorCode } from './embedded-postgres-error.js';
import type { ServerAccount } from './server-account.js';

/** Programs that the server's account can run. */
export interface ServerBinaries {
  readonly initdb: string;
  readonly postgres: string;
  /** Major version, such as `18`: a data folder belongs to exactly one. */
  readonly major: string;
}

const run = promisify(execFile);

/**
 * Finds the Postgres that npm installed for this platform, mends what npm leaves out, and copies it if the account
 * that must run it cannot reach it.
 *
 * @throws EmbeddedPostgresError when there is none for this platform or it does not run here
 */
export async function serverBinaries(
  account: ServerAccount | undefined,
  log: (line: string) => void,
): Promise<ServerBinaries> {
  const installed = await installedFolder();
  const linked = await linkLibraries(installed);
  const usable = linked && (account === undefined || (await canReach(join(installed, 'bin', 'postgres'), account)));
  const native = usable ? installed : await copyBinaries(installed, await packageVersion(installed), log);
  if (!usable) await linkLibraries(native);
  const postgres = join(native, 'bin', 'postgres');
  return { initdb: join(native, 'bin', 'initdb'), postgres, major: await majorVersion(postgres, account) };
}

/** The platform's package is a dependency of `embedded-postgres`, so it is looked for from there. */
async function installedFolder(): Promise<string> {
  const platform = `${process.platform}-${process.arch}`;
  try {
    if (process.platform === 'win32') throw new Error('signals that stop a server do not exist there');
    const wrapper = createRequire(import.meta.url).resolve('embedded-postgres');
    const entry = createRequire(wrapper).resolve(`@embedded-postgres/${platform}`);
    const native = join(dirname(dirname(entry)), 'native');
    await access(join(native, 'bin', 'postgres'));
    return native;
  } catch {
    throw new EmbeddedPostgresError(
      `There is no embedded Postgres for ${platform}, or npm left its optional package out: ` +
        'run npm ci again, or set DATABASE_URL to a Postgres of your own',
    );
  }
}

async function packageVersion(native: string): Promise<string> {
  const manifest: unknown = JSON.parse(await readFile(join(dirname(native), 'package.json'), 'utf8'));
  if (typeof manifest === 'object' && manifest !== null && 'version' in manifest) return String(manifest.version);
  throw new EmbeddedPostgresError(`${dirname(native)}/package.json has no version: run npm ci again`);
}

/**
 * npm packs no symbolic links. The package lists those of its libraries and makes them in an install script, which
 * does not run where scripts are switched off, so they are made here.
 *
 * @returns false when a link is missing and cannot be made in this place
 */
async function linkLibraries(native: string): Promise<boolean> {
  const list: unknown = JSON.parse(await readFile(join(native, 'pg-symlinks.json'), 'utf8').catch(() => '[]'));
  for (const link of Array.isArray(list) ? list : []) {
    const { source, target } = link as { source: string; target: string };
    try {
      await symlink(basename(source), join(dirname(native), target));
    } catch (error) {
      const linked = await access(join(dirname(native), target)).then(
        () => true,
        () => false,
      );
      if (errorCode(error) !== 'EEXIST' && !linked) return false;
    }
  }
  return true;
}

async function majorVersion(postgres: string, account: ServerAccount | undefined): Promise<string> {
  try {
    const { stdout } = await run(postgres, ['-V'], { ...account, env: {}, cwd: '/' });
    const major = /\b(\d+)(\.\d+|beta|rc|devel)/.exec(stdout)?.[1];
    if (major !== undefined) return major;
    throw new Error(`unknown version "${stdout.trim()}"`);
  } catch (error) {
    const said = error instanceof Error && 'stderr' in error ? String(error.stderr).trim().split('\n')[0] : '';
    throw new EmbeddedPostgresError(
      `The embedded Postgres does not run on this system (${said === '' || said === undefined ? errorCode(error) : said}): ` +
        'it needs glibc; set DATABASE_URL to a Postgres of your own',
    );
  }
}
