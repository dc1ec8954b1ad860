import { BookStore } from '../ports/book-store.js';
import { Clock } from '../ports/clock.js';
import { Log } from '../ports/log.js';
import { Seal } from '../ports/seal.js';
import { TraceStore } from '../ports/trace-store.js';
import { SetupBook } from '../setup/setup-book.js';

/** What the use cases of the book stand on. */
export interface BookDeps {
  readonly store: BookStore;
  readonly traces: TraceStore;
  readonly setup: SetupBook;
  readonly seal: Seal;
  readonly clock: Clock;
  /** A fresh UUID. */
  newId(): string;
  readonly log: Log;
}
