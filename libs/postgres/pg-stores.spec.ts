import { seal } from '../evidence/seal.js';
import { describeBookStore } from '../ledger/ports/book-store.contract.js';
import { describeKeyStore } from '../ledger/ports/key-store.contract.js';
import { describeReadStore } from '../ledger/ports/read-store.contract.js';
import { describeSetupStore } from '../ledger/ports/setup-store.contract.js';
import { describeTraceStore } from '../ledger/ports/trace-store.contract.js';
import { StoresUnderTest } from '../ledger/ports/book-bench.contract.js';
import { migratedDatabase } from '../../test/support/migrated-database.js';
import { silentLog } from '../../test/support/silent-log.js';
import { openDatabase } from './open-database.js';
import { PgBookStore } from './pg-book-store.js';
import { PgKeyStore } from './pg-key-store.js';
import { PgReadStore } from './pg-read-store.js';
import { PgSetupStore } from './pg-setup-store.js';
import { PgTraceStore } from './pg-trace-store.js';

async function makeStores(): Promise<StoresUnderTest> {
  const fresh = await migratedDatabase();
  const database = await openDatabase({ url: fresh.url, log: silentLog });
  const { pool, dataSource } = database;
  return {
    book: new PgBookStore(pool),
    read: new PgReadStore(pool),
    setup: new PgSetupStore(dataSource),
    keys: new PgKeyStore(dataSource),
    traces: new PgTraceStore(pool),
    advance: null,
    close: async () => {
      await database.close();
      await fresh.drop();
    },
  };
}

for (const describeStore of [
  describeBookStore,
  describeReadStore,
  describeSetupStore,
  describeKeyStore,
  describeTraceStore,
]) {
  describeStore('Postgres', makeStores, seal);
}
