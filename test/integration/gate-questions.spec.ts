import pg from 'pg';
import { jest } from '@jest/globals';
import { grantClearance } from '../../libs/ledger/clearances/grant-clearance.js';
import { BookHarness, postgresHarness } from '../support/book-harness.js';
import { boardDesign, partData } from '../support/domain-rules.js';
import { events, placed, received, removed } from '../support/small-shop.js';

/** On a busy machine each question to the database costs a clearance the same, whatever it asks. */
describe('how often the gate waits for the database', () => {
  let harness: BookHarness;

  beforeEach(async () => {
    harness = await postgresHarness();
    await harness.setupStore.revise('assembly', 'BRD', boardDesign(), 'test');
    await harness.setupStore.revise('part', 'CHIP', partData(), 'test');
  });

  afterEach(async () => {
    jest.restoreAllMocks();
    await harness.close();
  });

  const said = [received({ sites: [] }), removed({ refdes: 'U1' }), placed('M-1', { refdes: 'U1' })];
  const post = (): Promise<unknown> =>
    harness.post(
      events(
        'in',
        said.map((one, n) => ({ ...one, subject: 'BRD/1', minute: n, id: String(n) })),
      ),
    );
  const ask = (): ReturnType<typeof grantClearance> =>
    grantClearance(harness.deps, {
      ...{
        subject: 'BRD/1',
        station: 'BENCH-1',
        operator: 'ann',
        ttlSeconds: 60,
        actor: { kind: 'person', name: 'ann' },
      },
      steps: [{ type: 'heatbook.device.removed.v1', refdes: 'U1', fate: 'keep' }],
    });

  it('waits three times where nothing is pending of the board', async () => {
    await post();
    await harness.fold();
    await harness.deps.setup.catchUp();
    const waits = countWaits();
    expect(await ask()).toHaveProperty('granted');
    expect(waits()).toBe(3);
  });

  it('folds what is pending of the board first, and knows nothing less then', async () => {
    await post();
    expect(await ask()).toHaveProperty('granted');
    expect((await harness.reads.ledger('BRD/1', { limit: 10, order: 'asc', afterSeq: null })).length).toBe(4);
  });
});

/** @returns how many times a question was sent while none was under way: all that are sent meanwhile wait with it. */
function countWaits(): () => number {
  let waits = 0;
  let open = 0;
  const query: unknown = Reflect.get(pg.Client.prototype, 'query');
  if (typeof query !== 'function') throw new Error('pg has no query');
  jest.spyOn(pg.Client.prototype, 'query').mockImplementation(function (this: pg.Client, ...asked: unknown[]): unknown {
    if (open === 0) waits += 1;
    open += 1;
    const answer: unknown = Reflect.apply(query, this, asked);
    if (answer instanceof Promise) {
      void answer.finally(() => (open -= 1)).catch(() => undefined);
    }
    return answer;
  });
  return () => waits;
}
