import { seal } from '../../evidence/seal.js';
import { describeAccessStore } from '../ports/access-store.contract.js';
import { StoresUnderTest } from '../ports/book-bench.contract.js';
import { describeBookStore } from '../ports/book-store.contract.js';
import { describeClearanceStore } from '../ports/clearance-store.contract.js';
import { describeContainmentStore } from '../ports/containment-store.contract.js';
import { describeCustomerReads } from '../ports/customer-reads.contract.js';
import { describeLogStore } from '../ports/log-store.contract.js';
import { describeKeyStore } from '../ports/key-store.contract.js';
import { describeLedgerSearch } from '../ports/ledger-search.contract.js';
import { describeNoticeStore } from '../ports/notice-store.contract.js';
import { describeReadStore } from '../ports/read-store.contract.js';
import { describeRecountStore } from '../ports/recount-store.contract.js';
import { describeRetentionStore } from '../ports/retention-store.contract.js';
import { describeSetupStore } from '../ports/setup-store.contract.js';
import { describeChangeStore } from '../ports/change-store.contract.js';
import { describeStationStore } from '../ports/station-store.contract.js';
import { describeTraceStore } from '../ports/trace-store.contract.js';
import { memoryBook } from './memory-book.js';

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
  describeStore('memory', makeStores, seal);
}

function makeStores(): Promise<StoresUnderTest> {
  let nowMs = Date.parse('2026-03-02T08:00:00.000Z');
  return Promise.resolve({
    ...memoryBook({ now: () => new Date(nowMs).toISOString() }),
    advance: (ms: number) => {
      nowMs += ms;
      return Promise.resolve();
    },
    close: () => Promise.resolve(),
  });
}
