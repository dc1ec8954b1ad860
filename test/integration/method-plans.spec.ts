import { RunningHouse, runningHouse } from '../support/running-house.js';
import { deviceIn, dressed, enterShop, events, received, removed, SHOP } from '../support/small-shop.js';

interface Row {
  readonly method: string;
  readonly fits: boolean;
  readonly cheapest: boolean;
  readonly excursions: {
    site: number;
    device: number;
    neighbours: { refdes: string; counted: number; possible: number }[];
  };
  readonly minutes: number;
  readonly qualifiedOperators: string[];
  readonly reasons: { code: string; blocks: boolean }[];
  readonly cautions: string[];
  readonly steps: { type: string; profile?: { name: string; revision: string } }[];
}

/** The engineer's question: how is this site dressed at least cost? */
describe('a method plan', () => {
  let shop: RunningHouse;

  beforeAll(async () => {
    shop = await runningHouse();
    await enterShop(shop);
    await shop.post(events('4001', [received({ sites: [{ refdes: 'U7', priorReworks: 0 }] })]));
  });

  afterAll(async () => {
    await shop.close();
  });

  async function plan(
    wish: object,
  ): Promise<{ status: number; rows: Row[]; cheapest: string | null; body: Record<string, unknown> }> {
    const { status, body } = await shop.call('POST', '/v1/method-plans', {
      assembly: SHOP.assembly,
      refdes: 'U7',
      ...wish,
    });
    return { status, rows: body['rows'] as Row[], cheapest: body['cheapest'] as string | null, body };
  }

  const profiles = {
    removal: { name: SHOP.profile, revision: 'A' },
    placement: { name: SHOP.profile, revision: 'A' },
    fountain: { name: SHOP.profile, revision: 'A' },
    coupon: { name: SHOP.profile, revision: 'A' },
  };

  it('has a row for each dressing method, with what its route spends, and marks the cheapest that fits', async () => {
    const { status, rows, cheapest } = await plan({ serial: '4001', goal: 'new-device', profiles });
    expect(status).toBe(200);
    expect(rows.map(({ method }) => method)).toEqual(['braid', 'vacuum', 'fountain', 'coupon']);
    // Removal, dressing and placement for the site; the new device sees its placement alone.
    expect(rows.map(({ excursions }) => [excursions.site, excursions.device])).toEqual([
      [3, 1],
      [3, 1],
      [3, 1],
      [3, 1],
    ]);
    const chosen = rows.filter((row) => row.cheapest);
    expect(chosen.map(({ method, fits }) => ({ method, fits }))).toEqual([{ method: cheapest, fits: true }]);
    expect(rows.find(({ method }) => method === 'vacuum')?.qualifiedOperators).toEqual(['ann']);
    expect(rows.every(({ cautions, steps }) => cautions.length > 0 && steps.length === 3)).toBe(true);
  });

  it('knows that a device reused from a single-side board has no excursion left (1 + 1 + 1 + 1 > 3)', async () => {
    const { rows, cheapest, body } = await plan({ serial: '4001', goal: 'reuse-device', profiles });
    // Built 1, removal 1, reballing 1, placement 1: four of three, whichever way the balls come off.
    expect(rows.map(({ fits }) => fits)).toEqual([false, false, false, false]);
    expect(cheapest).toBeNull();
    expect(
      rows.every(({ reasons }) => reasons.some(({ code, blocks }) => code === 'device-excursions' && blocks)),
    ).toBe(true);
    expect(body['concession']).toMatchObject({
      needs: [{ code: 'device-excursions', asks: { allowed: 3, needed: 4 } }],
    });
  });

  it('starts from where the site is', async () => {
    await shop.post(events('4002', [received(), removed(), dressed(), deviceIn('PLAN-1')]));
    const { rows } = await plan({ serial: '4002', goal: 'new-device', profiles });
    expect(rows[0]?.steps.map(({ type }) => type)).toEqual(['heatbook.device.placed.v1']);
  });

  it('says possible where no profile speaks of a neighbour', async () => {
    const { rows } = await plan({ serial: '4001', goal: 'new-device' });
    const [braid] = rows;
    expect(braid?.excursions.neighbours).toContainEqual({ refdes: 'U8', counted: 0, possible: 2, fits: true });
  });

  it('gives steps that can be posted as they are, with the profiles that their neighbours were judged by', async () => {
    const { rows } = await plan({ serial: '4001', goal: 'new-device', profiles });
    const braid = rows.find(({ method }) => method === 'braid');
    expect(braid?.steps.map(({ profile }) => profile)).toEqual([profiles.removal, undefined, profiles.placement]);
    const { status, body } = await shop.call('POST', '/v1/clearances', {
      ...{ assembly: SHOP.assembly, serial: '4001', station: SHOP.bench, operator: 'ann', ttlSeconds: 60 },
      steps: braid?.steps,
    });
    expect(status).toBe(201);
    const codes = (body['warnings'] as { code: string }[]).map(({ code }) => code);
    expect(codes).not.toContain('profile-unnamed');
    expect(codes).not.toContain('neighbour-possible');
  });

  it('answers what it cannot plan with a problem', async () => {
    expect((await plan({ serial: '9999', goal: 'new-device' })).status).toBe(404);
    expect((await plan({ serial: '4001', refdes: 'U99', goal: 'new-device' })).status).toBe(404);
    expect((await plan({ serial: '4001', goal: 'magic' })).status).toBe(422);
  });
});
