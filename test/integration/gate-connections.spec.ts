import { makeDemoTraces } from '../../apps/cli/demo/traces/make-demo-traces.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import { enterShop, events, heat, received, removed, SHOP } from '../support/small-shop.js';

/** More than a house has connections of the hot path. */
const ASKING = 24;
const SERIALS = Array.from({ length: ASKING }, (_, n) => `5${String(n).padStart(3, '0')}`);

/** What a transaction of the book reads beside itself must not wait for the connections that such transactions have. */
describe('more at the gate than there are connections', () => {
  let shop: RunningHouse;

  beforeAll(async () => {
    shop = await runningHouse();
    await enterShop(shop);
    const trace = makeDemoTraces().find(({ voltage }) => voltage === undefined);
    await shop.call('PUT', '/v1/traces/run-1', trace?.csv, { type: 'text/csv' });
  });

  afterAll(() => shop.close());

  const ask = (serial: string) => {
    const profile = { name: SHOP.profile, revision: 'A' };
    const steps = [{ type: 'heatbook.site.dressed.v1', refdes: 'U7', method: 'vacuum', profile }];
    const wish = { assembly: SHOP.assembly, serial, operator: 'ann', station: SHOP.bench, steps };
    return shop.call('POST', '/v1/clearances', wish);
  };

  it('are all answered, though each has a step to fold whose trace is to be read', async () => {
    const told = SERIALS.flatMap((serial) => {
      const traced = { ...heat({ position: 'joint', peakC: 236 }), trace: 'run-1' };
      return events(serial, [received(), removed({ heat: traced })]);
    });
    let asked: ReturnType<typeof ask>[] = [];
    // Nobody folds while the book is taken, so that all of them find their steps waiting.
    await shop.house.book.store.exclusively(async () => {
      const { status } = await shop.call('POST', '/v1/events', told, { type: 'application/cloudevents-batch+json' });
      expect(status).toBe(202);
      asked = SERIALS.map(ask);
    });
    const answers = await Promise.all(asked);
    expect(answers.map(({ status, body }) => [status, body['state'] ?? body['reasons']])).toEqual(
      SERIALS.map(() => [201, 'granted']),
    );
  }, 20_000);
});
