import { Client } from 'undici';
import { signInPerson } from '../../support/signed-in-person.js';
import { elapsedMs } from '../elapsed-ms.js';
import { Asker } from '../load/ask-in-turns.js';
import { GrownBook, growBook } from '../load/grow-book.js';
import { tellPatternBoards } from '../load/pattern-boards.js';
import { CUSTOMER } from '../load/read-pages.js';
import { HeatbookProcesses } from './heatbook-processes.js';

/** Boards that stand at the desk, however large the book. */
export const OPEN_BOARDS = 200;

/** One api on a book of its own. */
export interface Shelf {
  readonly heatbook: HeatbookProcesses;
  readonly book: GrownBook;
  readonly grownMs: number;
  readonly house: Asker;
  readonly customer: Asker;
}

/** Has an api open a book of its own and makes it as large as is wanted. */
export async function openShelf(redisUrl: string, entries: number): Promise<Shelf> {
  const heatbook = await HeatbookProcesses.open(redisUrl, { apis: 1, workers: 1 });
  await tellPatternBoards(heatbook);
  // Nothing is to be folded any more, and timers of a worker would read beside the readers.
  await heatbook.stopWorkers();
  const [url = ''] = heatbook.urls;
  const person = await signInPerson(url, heatbook.key, { name: 'carla', roles: ['customer'], customer: CUSTOMER });
  let book: GrownBook | undefined;
  const grownMs = await elapsedMs(async () => {
    book = await growBook(heatbook.databaseUrl, { entries, openBoards: OPEN_BOARDS });
  });
  if (book === undefined) throw new Error('the book was not grown');
  return {
    ...{ heatbook, book, grownMs },
    house: { client: new Client(url), headers: { authorization: `Bearer ${heatbook.key}` } },
    customer: { client: new Client(url), headers: person.headers },
  };
}
