import { setImmediate } from 'node:timers/promises';
import { jest } from '@jest/globals';
import pg from 'pg';
import { PlannedStep } from '../../libs/domain/clearance/clearance.js';
import { StreamKey } from '../../libs/domain/subject/subject.js';
import { grantClearance } from '../../libs/ledger/clearances/grant-clearance.js';
import { foldPending } from '../../libs/ledger/fold/fold-pending.js';
import { ReachesFarther } from '../../libs/ledger/fold/plan-folds.js';
import { BookHarness, postgresHarness } from '../support/book-harness.js';
import { boardDesign, partData } from '../support/domain-rules.js';
import { events, placed, received, removed, Said } from '../support/small-shop.js';
import { testEnvironment } from '../support/test-environment.js';

const MOVED = 'M-1';
const U1 = { refdes: 'U1' };

/** Folds and the gate lock what they reach in one order, so that none of them waits for another in a circle. */
describe('the order of locks', () => {
  let harness: BookHarness;

  beforeEach(async () => {
    harness = await postgresHarness();
    await harness.setupStore.revise('assembly', 'BRD', boardDesign(), 'test');
    await harness.setupStore.revise('part', 'CHIP', partData(), 'test');
    await say('1', [received({ sites: [] }), removed({ ...U1, device: MOVED, fate: 'keep' })], 0);
    await say('2', [received({ sites: [] }), removed(U1), placed(MOVED, U1)], 30);
    await harness.fold();
  });

  afterEach(() => harness.close());

  async function say(serial: string, said: readonly Said[], from: number): Promise<void> {
    const subject = `BRD/${serial}`;
    const timed = said.map((one, n) => ({ ...one, subject, minute: from + n, id: `${serial}-${String(from + n)}` }));
    await harness.post(events(serial, timed));
  }

  it('is kept by a late event: a board of another shard is not waited for, the whole book is', async () => {
    await say('2', [{ type: 'heatbook.site.cleaned.v1', data: { ...U1, agent: 'water' } }], 10);
    const { store, setup } = harness.deps;
    await setup.catchUp();
    await store.besideFolds(async (other) => {
      await other.load(['BRD/1']);
      const folding = store.besideFolds(async (tx) => {
        const pending = await tx.claimSubjects(['BRD/2']);
        await foldPending({ deps: harness.deps, tx, whole: false, rules: setup.latest() }, pending);
      });
      await expect(folding).rejects.toThrow(ReachesFarther);
    });
  }, 10_000);

  it('is kept at the gate: devices of the board, of the plan and of what is folded come in one row', async () => {
    const named = 'A-1';
    const tail: StreamKey = `devices/${MOVED}`;
    await harness.post(
      events('in', [{ type: 'heatbook.device.received.v1', subject: `devices/${named}`, data: { part: 'CHIP' } }]),
    );
    await harness.fold();
    await say('2', [{ type: 'heatbook.site.cleaned.v1', data: { ...U1, agent: 'water' } }], 50);
    const steps: PlannedStep[] = [{ type: 'heatbook.device.placed.v1', refdes: 'U1', device: named }];
    const actor = { kind: 'person', name: 'ann' } as const;
    const wish = { subject: 'BRD/2', station: 'BENCH-1', operator: 'ann', steps, ttlSeconds: 60, actor };
    const begun = jest.spyOn(harness.deps.store, 'besideFolds');
    const answer = await harness.deps.store.besideFolds(async (other) => {
      await other.load([`devices/${named}`]);
      const asked = grantClearance(harness.deps, wish);
      await someoneWaits();
      // Were it locked by the one that waits for us, we would wait in a circle, and one of us would have to begin again.
      expect(await other.load([tail])).toHaveLength(1);
      return { asked };
    });
    expect(await answer.asked).toHaveProperty('refused');
    expect(begun).toHaveBeenCalledTimes(2);
  }, 10_000);

  async function someoneWaits(): Promise<void> {
    const client = new pg.Client({ connectionString: testEnvironment('TEST_DATABASE_URL') });
    await client.connect();
    const waiting = `SELECT FROM pg_stat_activity WHERE datname ^@ $1 AND wait_event_type = 'Lock'`;
    try {
      while ((await client.query(waiting, [`test_${String(process.pid)}_`])).rowCount === 0) await setImmediate();
    } finally {
      await client.end();
    }
  }
});
