import { describeAppendOnly } from './append-only.contract.js';
import { describeEnterSetup } from './enter-setup.contract.js';
import { describeExclusion } from './exclusion.contract.js';
import { describeInbox } from './inbox.contract.js';
import { describePending } from './pending.contract.js';
import { describeRollback } from './rollback.contract.js';
import { describeRechecks } from './rechecks.contract.js';
import { Seal } from './seal.js';
import { describeTransaction } from './transaction.contract.js';
import { MakeStores, useBench } from './use-bench.contract.js';

/** What the write side of every book must do. `make` gives an empty one each time. */
export function describeBookStore(name: string, make: MakeStores, seal: Seal): void {
  describe(`book store: ${name}`, () => {
    const bench = useBench(make, seal);
    describe('inbox', () => {
      describeInbox(bench);
    });
    describe('pending events', () => {
      describePending(bench);
    });
    describe('transaction', () => {
      describeTransaction(bench);
      describeAppendOnly(bench);
      describeRollback(bench);
    });
    describe('setup entered with it', () => {
      describeEnterSetup(bench);
    });
    describe('rechecks of limits', () => {
      describeRechecks(bench);
    });
    describe('exclusion', () => {
      describeExclusion(bench);
    });
  });
}
