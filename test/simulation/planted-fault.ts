import { MemoryTables } from '../../libs/ledger/memory/memory-tables.js';
import { BookStore, EventInbox } from '../../libs/ledger/ports/book-store.js';
import { LogStore } from '../../libs/ledger/ports/log-store.js';
import { SimProcess } from './sim-process.js';

/** A wrong product: where a part of the right one is left away or done in another order. */
export interface PlantedFault {
  readonly name: string;
  /** What every api hands events to, in place of its batcher. */
  readonly inbox?: (inbox: EventInbox) => EventInbox;
  /** The store that a process is connected to. */
  readonly store?: (store: BookStore, tables: MemoryTables, process: SimProcess) => BookStore;
  readonly log?: (log: LogStore, tables: MemoryTables) => LogStore;
  /** Nobody looks for events that no wake-up told of. */
  readonly isUnswept?: boolean;
}

export const NO_FAULT: PlantedFault = { name: 'none' };
