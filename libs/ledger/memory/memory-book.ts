import { BookStore } from '../ports/book-store.js';
import { KeyStore } from '../ports/key-store.js';
import { ReadStore } from '../ports/read-store.js';
import { SetupStore } from '../ports/setup-store.js';
import { TraceStore } from '../ports/trace-store.js';
import { MemoryBookStore } from './memory-book-store.js';
import { MemoryKeyStore } from './memory-key-store.js';
import { MemoryReadStore } from './memory-read-store.js';
import { MemorySetupStore } from './memory-setup-store.js';
import { MemoryTables } from './memory-tables.js';
import { MemoryTraceStore } from './memory-trace-store.js';

/** All stores over one set of tables. */
export interface MemoryBook {
  readonly book: BookStore;
  readonly read: ReadStore;
  readonly setup: SetupStore;
  readonly keys: KeyStore;
  readonly traces: TraceStore;
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
    setup: new MemorySetupStore(tables, now),
    keys: new MemoryKeyStore(tables),
    traces: new MemoryTraceStore(tables),
  };
}
