import { AccessStore } from '../ports/access-store.js';
import { BookStore } from '../ports/book-store.js';
import { ContainmentStore } from '../ports/containment-store.js';
import { CustomerReads } from '../ports/customer-reads.js';
import { KeyStore } from '../ports/key-store.js';
import { LogStore } from '../ports/log-store.js';
import { LedgerSearch } from '../ports/ledger-search.js';
import { NoticeStore } from '../ports/notice-store.js';
import { ReadStore } from '../ports/read-store.js';
import { RecountStore } from '../ports/recount-store.js';
import { RetentionStore } from '../ports/retention-store.js';
import { SetupStore } from '../ports/setup-store.js';
import { ChangeStore } from '../ports/change-store.js';
import { StationStore } from '../ports/station-store.js';
import { TraceStore } from '../ports/trace-store.js';
import { MemoryAccessStore } from './memory-access-store.js';
import { MemoryBookStore } from './memory-book-store.js';
import { MemoryContainmentStore } from './memory-containment-store.js';
import { MemoryCustomerReads } from './memory-customer-reads.js';
import { MemoryKeyStore } from './memory-key-store.js';
import { MemoryLogStore } from './memory-log-store.js';
import { MemoryLedgerSearch } from './memory-ledger-search.js';
import { MemoryNoticeStore } from './memory-notice-store.js';
import { MemoryReadStore } from './memory-read-store.js';
import { MemoryRecountStore } from './memory-recount-store.js';
import { MemoryRetentionStore } from './memory-retention-store.js';
import { MemorySetupStore } from './memory-setup-store.js';
import { MemoryStationStore } from './memory-station-store.js';
import { MemoryChangeStore } from './memory-change-store.js';
import { MemoryTables } from './memory-tables.js';
import { MemoryTraceStore } from './memory-trace-store.js';

/** All stores over one set of tables. */
export interface MemoryBook {
  readonly book: BookStore;
  readonly read: ReadStore;
  readonly customers: CustomerReads;
  readonly access: AccessStore;
  readonly setup: SetupStore;
  readonly keys: KeyStore;
  readonly traces: TraceStore;
  readonly notices: NoticeStore;
  readonly search: LedgerSearch;
  readonly containments: ContainmentStore;
  readonly retention: RetentionStore;
  readonly stations: StationStore;
  readonly changes: ChangeStore;
  /** The site-wide log, told of every entry as it is committed. */
  readonly siteLog: LogStore;
  readonly recount: RecountStore;
}

/**
 * A book in the memory of this process, for tests: it keeps what it promised to keep as long as the process lives.
 * It behaves like a database (transactions, locks, nothing shared by reference) and is repeatable: its only time is
 * `now` (RFC 3339 UTC), it draws no random numbers, and numbers events in the order of their arrival.
 */
export function memoryBook({ now, shards = 8 }: { now: () => string; shards?: number }): MemoryBook {
  const tables = new MemoryTables();
  return {
    book: new MemoryBookStore(tables, now, shards),
    read: new MemoryReadStore(tables),
    customers: new MemoryCustomerReads(tables),
    access: new MemoryAccessStore(tables),
    setup: new MemorySetupStore(tables, now),
    keys: new MemoryKeyStore(tables),
    traces: new MemoryTraceStore(tables),
    notices: new MemoryNoticeStore(tables),
    search: new MemoryLedgerSearch(tables),
    containments: new MemoryContainmentStore(tables),
    retention: new MemoryRetentionStore(tables),
    stations: new MemoryStationStore(tables),
    changes: new MemoryChangeStore(tables),
    siteLog: new MemoryLogStore(tables),
    recount: new MemoryRecountStore(tables),
  };
}
