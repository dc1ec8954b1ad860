import { randomBytes } from 'node:crypto';
import { join } from 'node:path';
import { nodeSigner } from '../../libs/evidence/log/node-signer.js';
import { nodeDigests } from '../../libs/evidence/node-digests.js';
import { keyOfSigner } from '../../libs/ledger/log/log-keys.js';
import { toHex } from '../../libs/ledger/log/notes/hex.js';
import { ReadLog } from '../../libs/ledger/log/read-log.js';
import { SiteLogDeps } from '../../libs/ledger/log/site-log-deps.js';
import { MemorySignedBefore } from '../../libs/ledger/memory/memory-signed-before.js';
import { JobQueue } from '../../libs/ledger/ports/job-queue.js';
import { LogStore } from '../../libs/ledger/ports/log-store.js';
import { SignedBeforeFile } from './signed-before-file.js';

/** How the site-wide log is signed. */
export interface LogSigning {
  /** PKCS#8 PEM, Ed25519; undefined where this process signs nothing. */
  readonly signingKey?: string | undefined;
  /** Name of the log; drawn for a new book where it is left out. */
  readonly origin?: string | undefined;
  /** Folder for the last checkpoint that the key signed; kept in memory alone where it is left out. */
  readonly signedBeforeFolder?: string | undefined;
}

/** The site-wide log of a house: what its use cases stand on, and what answers questions about it. */
export interface OpenSiteLog {
  readonly logDeps: SiteLogDeps;
  readonly siteLog: ReadLog;
}

/** @throws Error where the key is none, or the log has another name than the one that is given */
export async function openSiteLog(
  siteLog: LogStore,
  signing: LogSigning,
  deps: Pick<SiteLogDeps, 'store' | 'reads' | 'seal' | 'clock' | 'log' | 'tracer'> & {
    readonly queue: Pick<JobQueue, 'add'>;
  },
): Promise<OpenSiteLog> {
  const { signingKey } = signing;
  const origin = await siteLog.origin(signing.origin ?? `heatbook/${randomBytes(6).toString('hex')}`);
  if (signing.origin !== undefined && signing.origin !== origin) {
    throw new Error(
      `HEATBOOK_ORIGIN is ${signing.origin}, but the log of this book is called ${origin}, for ever: set it to that, or unset it.`,
    );
  }
  const { sha256 } = nodeDigests;
  const signer = signingKey === undefined ? undefined : nodeSigner(signingKey, origin);
  if (signer === undefined) {
    deps.log.warn(
      'There is no signing key, so this process signs neither the log nor exports: make one with ' +
        '"heatbook signing-key FILE" and give it to api and worker as HEATBOOK_SIGNING_KEY_FILE.',
    );
  }
  const logDeps: SiteLogDeps = {
    ...{ siteLog, sha256, origin, signer, ...deps },
    signedBefore:
      signer === undefined || signing.signedBeforeFolder === undefined
        ? new MemorySignedBefore()
        : signedBeforeOf(signing.signedBeforeFolder, toHex(keyOfSigner(sha256, signer).keyId)),
  };
  return { logDeps, siteLog: new ReadLog({ ...logDeps, queue: deps.queue }) };
}

/** Where the last checkpoint that a key signed is kept. @param keyId 8 hex digits */
export function signedBeforeOf(folder: string, keyId: string): SignedBeforeFile {
  return new SignedBeforeFile(join(folder, `signed-${keyId}.checkpoint`));
}
