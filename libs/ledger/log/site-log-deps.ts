import { BookStore } from '../ports/book-store.js';
import { Clock } from '../ports/clock.js';
import { Log } from '../ports/log.js';
import { LogStore } from '../ports/log-store.js';
import { ReadStore } from '../ports/read-store.js';
import { Seal } from '../ports/seal.js';
import { SignedBefore } from '../ports/signed-before.js';
import { Tracer } from '../ports/tracer.js';
import { LogSigner } from './log-signer.js';
import { Sha256 } from './merkle/hashing.js';

/** What the use cases of the site-wide log stand on. */
export interface SiteLogDeps {
  readonly siteLog: LogStore;
  readonly store: Pick<BookStore, 'besideFolds'>;
  readonly reads: Pick<ReadStore, 'ledger'>;
  readonly seal: Seal;
  readonly sha256: Sha256;
  readonly clock: Clock;
  readonly log: Log;
  readonly tracer?: Tracer | undefined;
  /** Name of the log. */
  readonly origin: string;
  /** The key of this process; undefined where it has none, and then it signs nothing. */
  readonly signer: LogSigner | undefined;
  /** Of that key. */
  readonly signedBefore: SignedBefore;
}
