import { HoldRecord } from '../../libs/ledger/holds/hold-record.js';
import { RaiseHold } from '../../libs/ledger/holds/raise-hold.js';
import { ReleaseHold } from '../../libs/ledger/holds/release-hold.js';
import { BookStore } from '../../libs/ledger/ports/book-store.js';
import { IntakeDeps } from '../../libs/ledger/intake/accept-events.js';
import { Clock } from '../../libs/ledger/ports/clock.js';
import { JobQueue } from '../../libs/ledger/ports/job-queue.js';
import { KeyStore } from '../../libs/ledger/ports/key-store.js';
import { Log } from '../../libs/ledger/ports/log.js';
import { ReadStore } from '../../libs/ledger/ports/read-store.js';
import { SetupStore } from '../../libs/ledger/ports/setup-store.js';
import { TraceStore } from '../../libs/ledger/ports/trace-store.js';
import { SetupBook } from '../../libs/ledger/setup/setup-book.js';

/** The use cases for holds, bound to their stores. */
interface HoldDesk {
  raise(wish: RaiseHold): Promise<HoldRecord | 'unknown-subject'>;
  release(wish: ReleaseHold): Promise<HoldRecord | 'not-found' | 'not-open'>;
}

/** Whether the service can do its work, part by part. */
export interface Readiness {
  readonly ok: boolean;
  readonly checks: Readonly<Record<string, 'ok' | 'failing'>>;
}

/** Everything that the HTTP face works with; whoever starts the process builds it. */
export interface ApiDeps {
  readonly intake: IntakeDeps;
  readonly parking: Pick<BookStore, 'unpark'>;
  readonly reads: ReadStore;
  readonly setup: SetupBook;
  readonly setupStore: SetupStore;
  readonly keys: KeyStore;
  readonly traces: TraceStore;
  readonly clock: Clock;
  readonly queue: Pick<JobQueue, 'addMany'>;
  readonly holds: HoldDesk;
  readonly log: Log;
  /** Lower-case hex SHA-256 of the key with role admin that automation uses. */
  readonly adminKeyHash?: string;
  /**
   * Told of a trace once it is kept, and again whenever the same bytes come again: what hangs on it (a step that named it
   * before it was there) may be judged now. Must bear being told twice.
   */
  traceArrived(name: string): Promise<void>;
  ready(): Promise<Readiness>;
}

/** What `ApiDeps` is injected by: interfaces leave no trace at run time. */
export const API_DEPS = Symbol('ApiDeps');
