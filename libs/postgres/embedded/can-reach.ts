import { realpath, stat } from 'node:fs/promises';
import { dirname } from 'node:path';
import type { ServerAccount } from './server-account.js';

/** The `x` bit of a mode: enter a folder, run a file. */
const ENTER = 0o1;

/**
 * Whether an account may enter every folder on the way to a path, and the path itself (or run it, if it is a file).
 * Says no when in doubt, access lists included.
 */
export async function canReach(path: string, account: ServerAccount): Promise<boolean> {
  for (let at = await realpath(path); ; at = dirname(at)) {
    const { uid, gid, mode } = await stat(at);
    const shift = uid === account.uid ? 6 : gid === account.gid ? 3 : 0;
    if (((mode >> shift) & ENTER) === 0) return false;
    if (at === dirname(at)) return true;
  }
}
