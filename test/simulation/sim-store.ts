import { MemoryBookStore } from '../../libs/ledger/memory/memory-book-store.js';
import { MemoryLogStore } from '../../libs/ledger/memory/memory-log-store.js';
import { MemoryReadStore } from '../../libs/ledger/memory/memory-read-store.js';
import { MemoryTables } from '../../libs/ledger/memory/memory-tables.js';
import { MemoryTraceStore } from '../../libs/ledger/memory/memory-trace-store.js';
import { BookStore } from '../../libs/ledger/ports/book-store.js';
import { LogStore } from '../../libs/ledger/ports/log-store.js';
import { ReadStore } from '../../libs/ledger/ports/read-store.js';
import { TraceStore } from '../../libs/ledger/ports/trace-store.js';

/** Few, so that boards and devices meet in a shard and are apart. */
const SHARDS = 4;

/** The one store that all processes share. */
export interface SimStore {
  readonly tables: MemoryTables;
  readonly book: BookStore;
  readonly read: ReadStore;
  readonly traces: TraceStore;
  readonly log: LogStore;
}

export function storeOn(tables: MemoryTables, now: () => string): SimStore {
  return {
    tables,
    book: new MemoryBookStore(tables, now, SHARDS),
    read: new MemoryReadStore(tables),
    traces: new MemoryTraceStore(tables),
    log: new MemoryLogStore(tables),
  };
}
