import { seal } from '../evidence/seal.js';
import { BookBench } from '../ledger/ports/book-bench.contract.js';
import { memoryBook } from '../ledger/memory/memory-book.js';
import { migratedDatabase } from '../../test/support/migrated-database.js';
import { freshDatabase } from '../../test/support/fresh-database.js';
import { silentLog } from '../../test/support/silent-log.js';
import { openDatabase } from './open-database.js';
import { NoSuchBook, openRecountStore } from './open-recount-store.js';
import { PgBookStore } from './pg-book-store.js';

const UNIT = 'BRD-1/0001';

it('reads as of one moment while others write, and neither waits for them nor they for it', async () => {
  const fresh = await migratedDatabase();
  const database = await openDatabase({ url: fresh.url, log: silentLog });
  const book = new PgBookStore(database.pool);
  const others = memoryBook({ now: () => '2026-03-02T08:00:00.000Z' });
  const bench = new BookBench({ ...others, book, advance: null, close: () => Promise.resolve() }, seal);
  const recount = await openRecountStore(fresh.url);
  try {
    await bench.append(UNIT);
    await book.exclusively(async (tx) => {
      await tx.load([UNIT]);
      await recount.store.snapshot(async (reads) => {
        expect(await reads.entries([UNIT], null, 5)).toHaveLength(1);
        await bench.appendIn(tx, UNIT);
        expect(await reads.entries([UNIT], null, 5)).toHaveLength(1);
      });
    });
    await recount.store.snapshot(async (reads) => {
      expect(await reads.entries([UNIT], null, 5)).toHaveLength(2);
    });
  } finally {
    await recount.close();
    await database.close();
    await fresh.drop();
  }
});

it('says so where there is no book', async () => {
  const empty = await freshDatabase();
  try {
    await expect(openRecountStore(empty.url)).rejects.toBeInstanceOf(NoSuchBook);
  } finally {
    await empty.drop();
  }
});
