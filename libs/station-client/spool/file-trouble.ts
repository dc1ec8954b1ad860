import { SpoolBroken, SpoolFull, StationError } from '../errors.js';

/** ENOSPC: the disk; EDQUOT: the user's share of it; EFBIG: the largest file that is allowed. */
const FULL = ['ENOSPC', 'EDQUOT', 'EFBIG'];

/** What went wrong with a file of the spool, in words that say what to do. */
export function fileTrouble(error: unknown, doing: string, folder: string): StationError {
  if (error instanceof StationError) return error;
  const code = errorCode(error);
  if (code !== undefined && FULL.includes(code)) {
    const detail = 'Nothing was kept of this call, and what was kept before is safe: make room, and try again.';
    return new SpoolFull(`The disk under the spool ${folder} is full (${code}, ${doing}). ${detail}`, { cause: error });
  }
  const detail = 'Nothing was kept of this call: see to the disk and the rights on the folder.';
  return new SpoolBroken(`The spool ${folder} failed (${doing}): ${String(error)}. ${detail}`, { cause: error });
}

/** The code of an error of the operating system, such as ENOENT. */
export function errorCode(error: unknown): string | undefined {
  const { code } = (error ?? {}) as { code?: unknown };
  return typeof code === 'string' ? code : undefined;
}
