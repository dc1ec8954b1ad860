import { readFile } from 'node:fs/promises';
import { HeatbookConfig, loadConfig } from '../../../libs/config/load-config.js';
import { nodeSigner } from '../../../libs/evidence/log/node-signer.js';
import { currentKey, keyOfSigner, KeyRefused, rotateKey } from '../../../libs/ledger/log/log-keys.js';
import { toHex } from '../../../libs/ledger/log/notes/hex.js';
import { parseVerifierKey } from '../../../libs/ledger/log/notes/verifier-key.js';
import { brokenFrom } from '../../../libs/ledger/log/sign-checkpoint.js';
import { House } from '../../house/open-house.js';
import { signedBeforeOf } from '../../house/open-site-log.js';
import { installOwnKey, ownKeyFile } from '../../house/signing-key-file.js';
import { onTheBook } from './on-the-book.js';

export interface RotateOptions {
  /** File of the new key. */
  readonly key: string;
  readonly note: string;
  readonly lost: boolean;
}

/**
 * Lets another key sign from now on. Where the database was put back, the break is written into the same entry, and the
 * log begins anew with that key.
 * @returns the exit code: 1 where the key cannot take over
 */
export async function rotateKeyCommand(options: RotateOptions): Promise<number> {
  const config = loadConfig();
  try {
    const [next, old] = [await readFile(options.key, 'utf8'), options.lost ? undefined : await keyBefore(config)];
    return await onTheBook((house) => rotate(house, config, { ...options, next, old }));
  } catch (error) {
    if (!(error instanceof KeyRefused || isNoFile(error))) throw error;
    process.stderr.write(`${error.message}\n`);
    return 1;
  }
}

interface Keys {
  /** PKCS#8 PEM. */
  readonly next: string;
  readonly old: string | undefined;
}

async function rotate({ logDeps }: House, config: HeatbookConfig, wish: RotateOptions & Keys): Promise<string> {
  const { origin, sha256, reads } = logDeps;
  const next = nodeSigner(wish.next, origin);
  const old = wish.old === undefined ? undefined : nodeSigner(wish.old, origin);
  const current = parseVerifierKey((await currentKey(reads))?.vkey ?? '', sha256);
  const nextKey = keyOfSigner(sha256, next);
  const known = [nextKey, ...(old === undefined ? [] : [keyOfSigner(sha256, old)]), ...(current ? [current] : [])];
  let restoredFrom: string | undefined;
  for (const { keyId } of known) {
    restoredFrom ??= await brokenFrom(logDeps, signedBeforeOf(config.dataFolder, toHex(keyId)));
  }
  const { note } = wish;
  await rotateKey(logDeps, { next, old, note, ...(restoredFrom !== undefined && { restoredFrom }) });
  await signedBeforeOf(config.dataFolder, toHex(nextKey.keyId)).forget();
  return [
    `From now on ${next.vkey} signs.`,
    ...(restoredFrom === undefined ? [] : ['The log was put back; the checkpoint that it breaks with is on record.']),
    await whereToPutIt(config, wish, current && toHex(current.keyId)),
  ].join('\n');
}

async function whereToPutIt(
  config: HeatbookConfig,
  { key, next }: RotateOptions & Keys,
  before = 'before',
): Promise<string> {
  if (config.databaseUrl !== undefined || config.signingKey !== undefined) {
    return `Give ${key} to api and worker as HEATBOOK_SIGNING_KEY_FILE and start them anew; until then nothing is signed.`;
  }
  const kept = await installOwnKey(config.dataFolder, next, before);
  return `It is ${ownKeyFile(config.dataFolder)} now; the one before it is ${kept}.`;
}

/** @throws KeyRefused where there is none */
async function keyBefore({ signingKey, databaseUrl, dataFolder }: HeatbookConfig): Promise<string> {
  if (signingKey !== undefined) return signingKey;
  if (databaseUrl === undefined) return readFile(ownKeyFile(dataFolder), 'utf8');
  throw new KeyRefused(
    'Give the key that signs now as HEATBOOK_SIGNING_KEY_FILE, so that it endorses the new one; if it is gone, say --lost.',
  );
}

function isNoFile(error: unknown): error is Error {
  return error instanceof Error && 'code' in error && 'path' in error;
}
