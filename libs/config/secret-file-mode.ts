import type { Stats } from 'node:fs';

/** What others than the owner may do with a file, as bits of its mode. */
const OTHERS_WRITE = 0o002;
const OTHERS_READ = 0o004;
const GROUP_WRITES = 0o020;

/** Where containers mount secrets, which only what runs in the container can reach: the mode there is that of the mount. */
const MOUNTED = '/run/secrets/';

/** What is wrong with the mode of a file that holds a secret. */
export interface ModeFault {
  /** Whoever may write it puts in a secret of their own: it cannot be used. Who may read it is for the owner to mend. */
  readonly isFatal: boolean;
  /** Completes "the file …". */
  readonly wrong: string;
}

/**
 * What is wrong with the mode of a file with a secret in it, if anything is. Its group may read it: that is how a service which does
 * not own it gets it.
 */
export function secretFileFault(
  path: string,
  { mode, isFile }: { mode: number; isFile: boolean },
): ModeFault | undefined {
  // A pipe, such as a shell makes for `<(…)`, is gone after it was read.
  if (!isFile) return undefined;
  const wrong = (what: string): string => `${what} (mode ${(mode & 0o777).toString(8).padStart(4, '0')})`;
  if ((mode & OTHERS_WRITE) !== 0) return { isFatal: true, wrong: wrong('can be written by everyone') };
  if (path.startsWith(MOUNTED)) return undefined;
  if ((mode & OTHERS_READ) !== 0) return { isFatal: false, wrong: wrong('can be read by everyone on this machine') };
  if ((mode & GROUP_WRITES) !== 0) return { isFatal: false, wrong: wrong('can be written by its group') };
  return undefined;
}

/** The same of a file that was looked at. */
export function secretStatsFault(path: string, stats: Stats): ModeFault | undefined {
  return secretFileFault(path, { mode: stats.mode, isFile: stats.isFile() });
}
