import { seal } from '../evidence/seal.js';
import { describeAccessStore } from '../ledger/ports/access-store.contract.js';
import { describeBookStore } from '../ledger/ports/book-store.contract.js';
import { describeClearanceStore } from '../ledger/ports/clearance-store.contract.js';
import { describeContainmentStore } from '../ledger/ports/containment-store.contract.js';
import { describeCustomerReads } from '../ledger/ports/customer-reads.contract.js';
import { describeLogStore } from '../ledger/ports/log-store.contract.js';
import { describeKeyStore } from '../ledger/ports/key-store.contract.js';
import { describeLedgerSearch } from '../ledger/ports/ledger-search.contract.js';
import { describeNoticeStore } from '../ledger/ports/notice-store.contract.js';
import { describeReadStore } from '../ledger/ports/read-store.contract.js';
import { describeRecountStore } from '../ledger/ports/recount-store.contract.js';
import { describeRetentionStore } from '../ledger/ports/retention-store.contract.js';
import { describeSetupStore } from '../ledger/ports/setup-store.contract.js';
import { describeChangeStore } from '../ledger/ports/change-store.contract.js';
import { describeStationStore } from '../ledger/ports/station-store.contract.js';
import { describeTraceStore } from '../ledger/ports/trace-store.contract.js';
import { StoresUnderTest } from '../ledger/ports/book-bench.contract.js';
import { migratedDatabase } from '../../test/support/migrated-database.js';
import { silentLog } from '../../test/support/silent-log.js';
import { openDatabase } from './open-database.js';
import { PgAccessStore } from './pg-access-store.js';
import { PgBookStore } from './pg-book-store.js';
import { PgContainmentStore } from './pg-containment-store.js';
import { PgCustomerReads } from './pg-customer-reads.js';
import { PgKeyStore } from './pg-key-store.js';
import { PgLogStore } from './pg-log-store.js';
import { PgLedgerSearch } from './pg-ledger-search.js';
import { PgNoticeStore } from './pg-notice-store.js';
import { PgReadStore } from './pg-read-store.js';
import { PgRecountStore } from './pg-recount-store.js';
import { PgRetentionStore } from './pg-retention-store.js';
import { PgSetupStore } from './pg-setup-store.js';
import { PgChangeStore } from './pg-change-store.js';
import { PgStationStore } from './pg-station-store.js';
import { PgTraceStore } from './pg-trace-store.js';

async function makeStores(): Promise<StoresUnderTest> {
  const fresh = await migratedDatabase();
  const database = await openDatabase({ url: fresh.url, log: silentLog });
  const { pool, dataSource, customerPool, confined } = database;
  return {
    book: new PgBookStore(pool),
    read: new PgReadStore(pool),
    customers: new PgCustomerReads(customerPool, confined),
    access: new PgAccessStore(pool),
    setup: new PgSetupStore(dataSource),
    keys: new PgKeyStore(dataSource),
    traces: new PgTraceStore(pool),
    notices: new PgNoticeStore(pool),
    search: new PgLedgerSearch(pool),
    containments: new PgContainmentStore(pool),
    siteLog: new PgLogStore(pool),
    recount: new PgRecountStore(pool),
    retention: new PgRetentionStore(pool),
    stations: new PgStationStore(pool),
    changes: new PgChangeStore(pool),
    advance: null,
    close: async () => {
      await database.close();
      await fresh.drop();
    },
  };
}

for (const describeStore of [
  describeBookStore,
  describeClearanceStore,
  describeReadStore,
  describeCustomerReads,
  describeAccessStore,
  describeSetupStore,
  describeKeyStore,
  describeTraceStore,
  describeNoticeStore,
  describeContainmentStore,
  describeRecountStore,
  describeRetentionStore,
  describeStationStore,
  describeChangeStore,
  describeLedgerSearch,
  describeLogStore,
]) {
  describeStore('Postgres', makeStores, seal);
}
