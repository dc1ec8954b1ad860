import { migratedDatabase } from '../../test/support/migrated-database.js';
import { silentLog } from '../../test/support/silent-log.js';
import { describeArchiveStore } from '../ledger/ports/archive-store.contract.js';
import { openDatabase } from './open-database.js';
import { PgArchiveStore } from './pg-archive-store.js';

describeArchiveStore('Postgres', async () => {
  const fresh = await migratedDatabase();
  const database = await openDatabase({ url: fresh.url, log: silentLog });
  const close = async (): Promise<void> => {
    await database.close();
    await fresh.drop();
  };
  return { archives: new PgArchiveStore(database.pool), close };
});
