import { RunningHouse, runningHouse } from '../support/running-house.js';
import { dressed, enterShop, events, inspected, received, removed, SHOP } from '../support/small-shop.js';

/** What dressing does to pads, over HTTP: estimates with the house's own figures, and who damages how much. */
describe('pad wear and damage', () => {
  let shop: RunningHouse;

  beforeAll(async () => {
    shop = await runningHouse();
    await enterShop(shop);
  });

  afterAll(async () => {
    await shop.close();
  });

  async function copperOf(serial: string): Promise<unknown> {
    const { body } = await shop.call('GET', `/v1/units/${SHOP.assembly}/${serial}`);
    return (body['sites'] as { refdes: string; copper: unknown }[]).find(({ refdes }) => refdes === 'U7')?.copper;
  }

  const fountain = { method: 'fountain', contactSeconds: 10, solderC: 260, flowing: true };

  it('estimates pad copper by assumed rates until measured ones are entered', async () => {
    await shop.post(events('5001', [received(), removed(), dressed(fountain)]));
    // Assumption: SAC305 flowing at 260 C takes 0.95 um/s, so 10 s leave 25.5 of 35 um.
    expect(await copperOf('5001')).toMatchObject({ leftUm: 25.5, basis: 'assumed', certainty: 'estimate' });
    const rate = { flowingUmPerS: 0.5, stillUmPerS: 0.1, source: 'cross-sections of ten test boards' };
    expect((await shop.call('PUT', '/v1/copper-rates/SAC305', rate)).status).toBe(201);
    expect(await copperOf('5001')).toMatchObject({ leftUm: 30, basis: 'measured' });
    expect((await shop.call('PUT', '/v1/copper-rates/SAC999', rate)).status).toBe(422);
  });

  it('tells the class temperature and floor life of a part (J-STD-020 D/E: 17 x 17 x 1.6 mm has 250 C; MSL 3: 168 h)', async () => {
    const { status, body } = await shop.call('GET', `/v1/parts/${SHOP.part}/classification`);
    expect(status).toBe(200);
    expect(body).toMatchObject({ classTemperature: { classC: 250, volumeMm3: 462.4 }, floorLife: { lifeH: 168 } });
    expect((await shop.call('GET', '/v1/parts/NOBODY/classification')).status).toBe(404);
  });

  it('tells damage rates with their intervals', async () => {
    const lifted = inspected({ result: 'fail', defects: [{ code: 'lifted-pad', pads: ['A1'] }] });
    for (let n = 0; n < 12; n += 1) {
      await shop.post(events(`60${String(n + 10)}`, [received(), removed(), dressed(), n < 3 ? lifted : inspected()]));
    }
    const { status, body } = await shop.call('GET', '/v1/damage-rates?houseRate=0.02');
    expect(status).toBe(200);
    const rates = body['rates'] as { by: string; name: string; verdict: string }[];
    // 3 of 12 is 25 %, Wilson 95 % from 8.9 % to 53.2 %: the whole interval is above 2 %.
    expect(rates.find(({ by, name }) => by === 'operator' && name === 'ann')).toMatchObject({
      sites: 12,
      damaged: 3,
      verdict: 'above',
      interval: { low: expect.closeTo(0.089, 3) as number, high: expect.closeTo(0.532, 3) as number },
    });
    expect((await shop.call('GET', '/v1/damage-rates?houseRate=2')).status).toBe(422);
  });
});
