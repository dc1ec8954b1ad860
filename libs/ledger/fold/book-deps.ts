import { BookStore } from '../ports/book-store.js';
import { Clock } from '../ports/clock.js';
import { Log } from '../ports/log.js';
import { Seal } from '../ports/seal.js';
import { SetupBook } from '../setup/setup-book.js';

/** What the use cases of the book stand on. */
export interface BookDeps {
  readonly store: BookStore;
  readonly setup: SetupBook;
  readonly seal: Seal;
  readonly clock: Clock;
  /** A fresh UUID. */
  newId(): string;
  readonly log: Log;
}
