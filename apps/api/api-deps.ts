import { BookDeps } from '../../libs/ledger/fold/book-deps.js';
import { BookStore } from '../../libs/ledger/ports/book-store.js';
import { AccessStore } from '../../libs/ledger/ports/access-store.js';
import { ArchiveStore } from '../../libs/ledger/ports/archive-store.js';
import { ContainmentStore } from '../../libs/ledger/ports/containment-store.js';
import { CustomerReads } from '../../libs/ledger/ports/customer-reads.js';
import { IntakeDeps } from '../../libs/ledger/intake/accept-events.js';
import { ReadLog } from '../../libs/ledger/log/read-log.js';
import { LogSigner } from '../../libs/ledger/log/log-signer.js';
import { ChangeStore } from '../../libs/ledger/ports/change-store.js';
import { Clock } from '../../libs/ledger/ports/clock.js';
import { IdentityStores } from '../../libs/ledger/ports/identity-stores.js';
import { JobQueue } from '../../libs/ledger/ports/job-queue.js';
import { KeyStore } from '../../libs/ledger/ports/key-store.js';
import { LedgerSearch } from '../../libs/ledger/ports/ledger-search.js';
import { Log } from '../../libs/ledger/ports/log.js';
import { NoticeStore } from '../../libs/ledger/ports/notice-store.js';
import { ReadStore } from '../../libs/ledger/ports/read-store.js';
import { RetentionStore } from '../../libs/ledger/ports/retention-store.js';
import { SetupStore } from '../../libs/ledger/ports/setup-store.js';
import { StationStore } from '../../libs/ledger/ports/station-store.js';
import { TraceStore } from '../../libs/ledger/ports/trace-store.js';
import { Tracer } from '../../libs/ledger/ports/tracer.js';
import { SetupBook } from '../../libs/ledger/setup/setup-book.js';
import { Figures } from '../house/metrics/figures.js';
import { Readiness } from '../house/readiness.js';

/** Everything that the HTTP face works with; whoever starts the process builds it. */
export interface ApiDeps {
  /** What use cases of the book stand on. */
  readonly book: BookDeps;
  readonly intake: IntakeDeps;
  readonly parking: Pick<BookStore, 'unpark'>;
  readonly reads: ReadStore;
  readonly customerReads: CustomerReads;
  readonly access: AccessStore;
  readonly setup: SetupBook;
  readonly setupStore: SetupStore;
  readonly keys: KeyStore;
  readonly identity: IdentityStores;
  /** Whether the session's cookie is for HTTPS alone even where a request does not show that it came by it. */
  readonly secureCookies: boolean;
  readonly traces: TraceStore;
  /** The site-wide log: as exports carry it, and what is asked of it by itself. */
  readonly siteLog: ReadLog;
  /** What exports are signed with; null where this process has no key. */
  readonly signer: LogSigner | null;
  readonly notices: Pick<NoticeStore, 'list' | 'acknowledge'>;
  /** What this process counts. */
  readonly figures: Figures;
  readonly search: LedgerSearch;
  readonly containments: ContainmentStore;
  readonly archives: ArchiveStore;
  readonly retention: RetentionStore;
  readonly stations: StationStore;
  readonly changes: ChangeStore;
  readonly clock: Clock;
  readonly queue: Pick<JobQueue, 'addMany'>;
  readonly log: Log;
  /** Where spans go; undefined where nothing is traced. */
  readonly tracer?: Tracer | undefined;
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
