import { makeDemoTraces } from '../../apps/cli/demo/traces/make-demo-traces.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import { enterShop, events, received, removed, SHOP } from '../support/small-shop.js';

/** A heat's summary and its trace, whichever comes first. */
describe('a trace and the summary of its heat', () => {
  let shop: RunningHouse;
  const traces = makeDemoTraces().filter(({ voltage }) => voltage === undefined);

  beforeAll(async () => {
    shop = await runningHouse();
    await enterShop(shop);
  });

  afterAll(async () => {
    await shop.close();
  });

  async function upload(name: string, csv: string): Promise<number> {
    return (await shop.call('PUT', `/v1/traces/${name}`, csv, { type: 'text/csv' })).status;
  }

  async function holds(serial: string, state: string): Promise<string[]> {
    const { body } = await shop.call('GET', `/v1/holds?assembly=${SHOP.assembly}&serial=${serial}&state=${state}`);
    return (body['items'] as { reason: string }[]).map(({ reason }) => reason);
  }

  /** A removal that names a trace, with the peak of one of its channels, or another. */
  async function removal(serial: string, trace: string, channel: string, peakC: number, more = {}): Promise<void> {
    const thermocouples = [{ id: channel, position: 'joint', peakC, uncertaintyC: 1, ...more }];
    const heat = { startedAt: '2026-04-01T06:00:00Z', endedAt: '2026-04-01T06:08:00Z', thermocouples, trace };
    await shop.post(events(serial, [received(), removed({ heat })]));
  }

  const demo = traces[0];
  if (demo === undefined) throw new Error('the demo has no trace');
  async function channelOf(name: string): Promise<{ name: string; peakC: number }> {
    const { body } = await shop.call('GET', `/v1/traces/${name}/analysis?liquidusC=220`);
    const channels = body['channels'] as { name: string; state: string; peakC: number }[];
    const found = channels.find(({ state }) => state === 'ok');
    if (found === undefined) throw new Error('the trace has no sound channel');
    return found;
  }

  it('raises nothing where they agree', async () => {
    expect(await upload('agrees', demo.csv)).toBe(201);
    const { name, peakC } = await channelOf('agrees');
    await removal('3001', 'agrees', name, peakC);
    expect(await holds('3001', 'open')).toEqual([]);
  });

  it('judges a summary whose line is none by the usual one', async () => {
    const { name, peakC } = await channelOf('agrees');
    await removal('3006', 'agrees', name, peakC + 9, { liquidusC: 0 });
    expect(await holds('3006', 'open')).toEqual(['summary-mismatch']);
  });

  it('raises summary-mismatch where they do not, in the same breath as the fact', async () => {
    const { name, peakC } = await channelOf('agrees');
    await removal('3002', 'agrees', name, peakC + 9);
    expect(await holds('3002', 'open')).toEqual(['summary-mismatch']);
  });

  it('raises it when the trace comes after the step, and says in the ledger what it came from', async () => {
    const { name, peakC } = await channelOf('agrees');
    await removal('3003', 'comes-later', name, peakC + 9);
    expect(await holds('3003', 'open')).toEqual([]);
    expect(await upload('comes-later', demo.csv)).toBe(201);
    expect(await holds('3003', 'open')).toEqual(['summary-mismatch']);
    const { body } = await shop.call('GET', `/v1/units/${SHOP.assembly}/3003/ledger?limit=1`);
    expect(body['items']).toMatchObject([
      { type: 'heatbook.entry.rejudged.v1', data: { because: [{ trace: 'comes-later' }] } },
    ]);
  });

  it('is kept as it came and never changed', async () => {
    expect(await upload('agrees', demo.csv)).toBe(200);
    expect(await upload('agrees', `${demo.csv}9999,1\n`)).toBe(409);
  });
});
