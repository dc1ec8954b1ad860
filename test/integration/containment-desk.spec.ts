import { RunningHouse, runningHouse } from '../support/running-house.js';
import { SignedInPerson } from '../support/signed-in-person.js';
import { deviceIn, dressed, enterShop, events, ordinaryJob, received, removed, SHOP } from '../support/small-shop.js';

type Body = Record<string, unknown>;

/** 06:00 to 08:00, when the bench was under suspicion. */
const SPAN = { from: '2026-04-01T06:00:00Z', to: '2026-04-01T08:00:00Z' };
const BENCH = { station: SHOP.bench, ...SPAN };

/** The desk's way from a suspicion to everything that it reached, over HTTP and through the worker. */
describe('containing at the desk', () => {
  let shop: RunningHouse;
  let quality: SignedInPerson;
  let auditor: SignedInPerson;

  beforeAll(async () => {
    shop = await runningHouse();
    await enterShop(shop);
    quality = await shop.person('q-1', ['quality']);
    auditor = await shop.person('a-1', ['auditor']);
    await shop.post(events('6001', ordinaryJob('CD-1')));
    await shop.post(events('6002', [received(), removed(), dressed()]));
    await shop.post(events('6003', [{ ...received(), minute: 200 }]));
    await shop.post(events('6004', [{ ...deviceIn('CD-2'), minute: 20 }]));
  });

  afterAll(() => shop.close());

  async function settled(id: string): Promise<Body> {
    for (const until = Date.now() + 20_000; Date.now() < until;) {
      const { body } = await auditor.call('GET', `/v1/containments/${id}`);
      if (body['state'] === 'done' || body['state'] === 'failed') return body;
    }
    throw new Error(`containment ${id} is still under way`);
  }

  const keysOf = ({ items }: Body): unknown[] => (items as Body[]).map(({ key }) => key);

  it('shows what would be held, page by page, and holds nothing', async () => {
    const wish = { cause: BENCH, dryRun: true };
    const first = await quality.call('POST', '/v1/containments?limit=2', wish);
    expect(first.status).toBe(200);
    expect(first.body).toMatchObject({
      ...{ cause: { station: SHOP.bench }, units: 2, devices: 1, byCustomer: { Thimblewick: 2 } },
      byState: { shipped: 1, 'in-house': 1, loose: 1 },
    });
    expect(keysOf(first.body)).toEqual([`${SHOP.assembly}/6001`, `${SHOP.assembly}/6002`]);
    const cursor = String(first.body['nextCursor']);
    const second = await quality.call('POST', `/v1/containments?limit=2&cursor=${cursor}`, wish);
    expect(keysOf(second.body)).toEqual(['devices/CD-2']);
    expect(second.body['nextCursor']).toBeNull();
    expect((await shop.call('GET', '/v1/holds?state=open')).body['items']).toEqual([]);
  });

  it('is for somebody of quality who signs', async () => {
    const wish = { cause: BENCH, note: 'out of calibration' };
    const unsigned = await quality.call('POST', '/v1/containments', wish);
    expect([unsigned.status, unsigned.body['errors']]).toMatchObject([422, [{ pointer: '/signature' }]]);
    const wrong = { ...wish, signature: { password: 'not this one', meaning: 'held' } };
    expect((await quality.call('POST', '/v1/containments', wrong)).status).toBe(403);
    const theirs = { ...wish, signature: auditor.signature() };
    expect((await auditor.call('POST', '/v1/containments', theirs)).status).toBe(403);
    expect((await auditor.call('GET', '/v1/containments')).body['items']).toEqual([]);
  });

  it.each([
    ['none', { ...SPAN }, '/cause'],
    ['two', { ...BENCH, operator: 'ann' }, '/cause'],
    ['an interval that ends before it begins', { station: SHOP.bench, from: SPAN.to, to: SPAN.from }, '/cause/to'],
    ['no end', { station: SHOP.bench, from: SPAN.from }, '/cause/to'],
  ])('refuses %s, and says which field', async (_what, cause, pointer) => {
    const { status, body } = await quality.call('POST', '/v1/containments', { cause, dryRun: true });
    expect([status, (body['errors'] as Body[] | undefined)?.[0]?.['pointer']]).toEqual([422, pointer]);
  });

  it('holds what the dry run showed and the bench itself, and tells how far it is', async () => {
    const wish = { cause: BENCH, holdCause: true, note: 'out of calibration', signature: quality.signature() };
    const { status, body } = await quality.call('POST', '/v1/containments', wish);
    expect([status, body['state']]).toEqual([202, 'finding']);
    const id = String(body['id']);
    const done = await settled(id);
    expect(done).toMatchObject({ state: 'done', progress: { found: 3, held: 3 }, missed: 0, failure: null });
    const page = await auditor.call('GET', `/v1/containments/${id}/units?limit=2`);
    expect(keysOf(page.body)).toEqual([`${SHOP.assembly}/6001`, `${SHOP.assembly}/6002`]);
    const rest = await auditor.call(
      'GET',
      `/v1/containments/${id}/units?limit=2&cursor=${String(page.body['nextCursor'])}`,
    );
    expect(keysOf(rest.body)).toEqual(['devices/CD-2']);
    const open = (await shop.call('GET', '/v1/holds?state=open')).body['items'] as Body[];
    expect(open.map(({ subject }) => (subject as Body)['kind']).sort()).toEqual(['device', 'station', 'unit', 'unit']);
    const unit = await shop.call('GET', `/v1/units/${SHOP.assembly}/6001`);
    expect(unit.body['holds']).toMatchObject([{ reason: 'by-hand', state: 'open' }]);
    expect((await auditor.call('GET', '/v1/containments')).body['items']).toMatchObject([{ id, state: 'done' }]);
    const again = await quality.call('POST', '/v1/containments', { cause: BENCH, dryRun: true });
    expect(again.body['items']).toMatchObject([{ holds: [{ containment: id }] }, { holds: [{ containment: id }] }, {}]);
  });

  it('counts what came in late, and takes it in on another signed round', async () => {
    const listed = (await auditor.call('GET', '/v1/containments')).body['items'] as Body[];
    const id = String(listed[0]?.['id']);
    await shop.post(events('6009', [{ ...received(), minute: 45 }]));
    expect((await auditor.call('GET', `/v1/containments/${id}`)).body['missed']).toBe(1);
    const wish = { note: 'one came late', signature: quality.signature() };
    expect((await quality.call('POST', `/v1/containments/${id}/repeat`, wish)).status).toBe(202);
    expect(await settled(id)).toMatchObject({ missed: 0, rounds: [{ held: 3 }, { held: 1, note: 'one came late' }] });
    const unknown = await quality.call('POST', `/v1/containments/${id.replace(/^./, '_')}/repeat`, wish);
    expect(unknown.status).toBe(404);
  });
});
