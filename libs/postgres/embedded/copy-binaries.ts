import { chmod, cp, lstat, mkdir, mkdtemp, readdir, rename, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { EmbeddedPostgresError, errorCode } from './embedded-postgres-error.js';

const OTHERS_MAY_WRITE = 0o022;

/**
 * Copies the binaries to where any account can read them, once for each version and owner (60 MB, 0.1 s). Root uses
 * /var/cache, which nobody tidies up under a running server; everybody else the folder for temporary files.
 *
 * @returns the copy's `native` folder
 */
export async function copyBinaries(native: string, version: string, log: (line: string) => void): Promise<string> {
  const parents = process.geteuid?.() === 0 ? ['/var/cache', '/tmp'] : [tmpdir()];
  const failures: string[] = [];
  for (const parent of parents) {
    const home = join(parent, `heatbook-postgres-${version}-${process.geteuid?.() ?? 0}`);
    try {
      if (!(await isSafe(home))) await place(native, home, log);
      if (await isSafe(home)) return join(home, 'native');
      failures.push(`${home} belongs to somebody else: remove it`);
    } catch (error) {
      failures.push(`${home}: ${errorCode(error)}`);
    }
  }
  throw new EmbeddedPostgresError(
    `The account that runs Postgres cannot reach ${native} and no copy could be made (${failures.join('; ')})`,
  );
}

/** Only a folder that we made and nobody else can change may hold programs that we run. */
async function isSafe(home: string): Promise<boolean> {
  const found = await lstat(home).catch(() => undefined);
  if (found === undefined) return false;
  return found.isDirectory() && found.uid === process.geteuid?.() && (found.mode & OTHERS_MAY_WRITE) === 0;
}

/** Copies beside the final name and renames, so that a half-made or concurrent copy is never used. */
async function place(native: string, home: string, log: (line: string) => void): Promise<void> {
  await mkdir(dirname(home), { recursive: true });
  const draft = await mkdtemp(`${home}-`);
  try {
    await cp(native, join(draft, 'native'), { recursive: true, verbatimSymlinks: true });
    await openForReading(draft);
    await rename(draft, home);
    log(`copied the Postgres programs to ${home}, where the account that runs them can read them`);
  } catch (error) {
    await rm(draft, { recursive: true, force: true });
    if (!['EEXIST', 'ENOTEMPTY', 'ENOTDIR'].includes(errorCode(error))) throw error;
  }
}

async function openForReading(folder: string): Promise<void> {
  await chmod(folder, 0o755);
  for (const entry of await readdir(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) await openForReading(path);
    else if (entry.isFile()) await chmod(path, ((await lstat(path)).mode & 0o100) === 0 ? 0o644 : 0o755);
  }
}
