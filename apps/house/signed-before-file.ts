import { mkdir, open, readFile, rename, rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import { errorCode } from './error-code.js';
import { SignedBefore } from '../../libs/ledger/ports/signed-before.js';

/** The last checkpoint that a key signed, in a file of its own: whole as it was before or whole as it is now. */
export class SignedBeforeFile implements SignedBefore {
  constructor(private readonly path: string) {}

  async read(): Promise<string | undefined> {
    try {
      return await readFile(this.path, 'utf8');
    } catch (error) {
      if (errorCode(error) === 'ENOENT') return undefined;
      throw error;
    }
  }

  async write(note: string): Promise<void> {
    const folder = dirname(this.path);
    await mkdir(folder, { recursive: true, mode: 0o700 });
    const fresh = `${this.path}.new`;
    await flushed(fresh, 'w', (file) => file.writeFile(note));
    await rename(fresh, this.path);
    // The new name too must be on the disk.
    await flushed(folder, 'r', () => Promise.resolve());
  }

  /** Forgets it: the key begins anew. */
  async forget(): Promise<void> {
    await rm(this.path, { force: true });
  }
}

type OpenFile = Awaited<ReturnType<typeof open>>;

async function flushed(path: string, flags: string, work: (file: OpenFile) => Promise<void>): Promise<void> {
  const file = await open(path, flags, 0o600);
  try {
    await work(file);
    await file.sync();
  } finally {
    await file.close();
  }
}
