import { mkdir, open, rename, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { secretStatsFault } from '../../libs/config/secret-file-mode.js';
import { newSigningKey } from '../../libs/evidence/log/node-signer.js';
import { errorCode } from './error-code.js';

/** A file that is there already and is not written over. */
export class KeyFileTaken extends Error {
  override readonly name = 'KeyFileTaken';
}

/** Where a book with a Postgres of its own keeps its key. */
export function ownKeyFile(dataFolder: string): string {
  return join(dataFolder, 'signing-key.pem');
}

/**
 * The key of the data folder; made where there is none.
 * @param warn hears where others can read the file, as after a copy that did not keep modes
 * @returns PKCS#8 PEM
 */
export async function ownSigningKey(dataFolder: string, warn: (line: string) => void): Promise<string> {
  const path = ownKeyFile(dataFolder);
  await mkdir(dataFolder, { recursive: true, mode: 0o700 });
  try {
    return await makeSigningKeyFile(path);
  } catch (error) {
    if (!(error instanceof KeyFileTaken)) throw error;
    return readOwnKey(path, warn);
  }
}

async function readOwnKey(path: string, warn: (line: string) => void): Promise<string> {
  const file = await open(path, 'r');
  try {
    const fault = secretStatsFault(path, await file.stat());
    if (fault !== undefined)
      warn(`The signing key ${path} ${fault.wrong}: make it its owner's alone with "chmod 600".`);
    return await file.readFile('utf8');
  } finally {
    await file.close();
  }
}

/**
 * Makes a new signing key in a file that only its owner can read.
 * @returns the key, PKCS#8 PEM
 * @throws KeyFileTaken where there is a file already: a key that is lost cannot be made again
 */
export async function makeSigningKeyFile(path: string): Promise<string> {
  const key = newSigningKey();
  const file = await open(path, 'wx', 0o600).catch((error: unknown) => {
    if (errorCode(error) !== 'EEXIST') throw error;
    throw new KeyFileTaken(`${path} is there already and is left as it is: name another file.`);
  });
  try {
    await file.writeFile(key);
    await file.sync();
  } finally {
    await file.close();
  }
  const folder = await open(dirname(path), 'r');
  await folder.sync().finally(() => folder.close());
  return key;
}

/**
 * Puts another key in the place of the data folder's own.
 * @param before what the one before is told apart by
 * @returns where that is now
 */
export async function installOwnKey(dataFolder: string, key: string, before: string): Promise<string> {
  const [own, kept] = [ownKeyFile(dataFolder), join(dataFolder, `signing-key-${before}.pem`)];
  const fresh = `${own}.new`;
  // One that a broken run left would keep its mode, and a link its target.
  await rm(fresh, { force: true });
  await writeFile(fresh, key, { mode: 0o600, flag: 'wx' });
  await rename(own, kept).catch((error: unknown) => {
    // It may be what was lost.
    if (errorCode(error) !== 'ENOENT') throw error;
  });
  await rename(fresh, own);
  return kept;
}
