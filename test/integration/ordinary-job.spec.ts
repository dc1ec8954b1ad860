import { nodeDigests } from '../../libs/evidence/node-digests.js';
import { verifyAudit } from '../../libs/evidence/verify/verify-audit.js';
import { clearedJob } from '../support/cleared-job.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import {
  dressed,
  enterShop,
  events,
  heat,
  inspected,
  ordinaryJob,
  placed,
  received,
  removed,
  shipped,
  SHOP,
} from '../support/small-shop.js';

interface HoldRow {
  readonly id: string;
  readonly reason: string;
  readonly state: string;
}

/** What a floor sees of the product, over HTTP. */
describe('a rework floor', () => {
  let shop: RunningHouse;

  beforeAll(async () => {
    shop = await runningHouse();
    await enterShop(shop);
  });

  afterAll(async () => {
    await shop.close();
  });

  async function unit(serial: string): Promise<Record<string, unknown>> {
    const { status, body } = await shop.call('GET', `/v1/units/${SHOP.assembly}/${serial}`);
    expect(status).toBe(200);
    return body;
  }

  async function holds(serial: string, more = '&state=open'): Promise<readonly HoldRow[]> {
    const { body } = await shop.call('GET', `/v1/holds?assembly=${SHOP.assembly}&serial=${serial}${more}`);
    return body['items'] as HoldRow[];
  }

  it('replaces one device on a double-sided board: no hold, no warning', async () => {
    const { status, body } = await shop.post(events('1001', await clearedJob(shop, '1001', 'NEW-1')));
    expect({ status, accepted: body['accepted'] }).toEqual({ status: 202, accepted: 10 });
    const view = await unit('1001');
    expect(view).toMatchObject({ state: 'shipped', customer: 'Thimblewick', holds: [], warnings: [] });
    // As it was when the board left, not as if it had lain open ever since.
    expect(view['moisture']).toMatchObject({ boardDry: true });
  });

  it('counts what was spent on the way, and says on what ground', async () => {
    const { budgets } = await unit('1001');
    const of = (limit: string, kind: string, name: string): unknown =>
      (budgets as { limit: string; subject: { kind: string; refdes?: string; device?: string } }[]).find(
        (row) =>
          row.limit === limit &&
          row.subject.kind === kind &&
          (row.subject.refdes ?? row.subject.device ?? 'unit') === name,
      );
    expect(of('unit-reflows', 'unit', 'unit')).toMatchObject({ used: 2, allowed: 6, basis: 'assumed' });
    expect(of('site-reworks', 'site', 'U7')).toMatchObject({ used: 1, remaining: 2 });
    // Built 1, removal 1, vacuum dressing 1, placement 1.
    expect(of('site-excursions', 'site', 'U7')).toMatchObject({ used: 4, possible: 0 });
    expect(of('device-excursions', 'device', 'NEW-1')).toMatchObject({ used: 1, basis: 'measured' });
    expect(of('device-excursions', 'device', `${SHOP.assembly}:1001:U9`)).toMatchObject({ used: 2, basis: 'assumed' });
  });

  it('gives an audit that holds, and that does not once a word in it is changed', async () => {
    const { status, body } = await shop.call('GET', `/v1/units/${SHOP.assembly}/1001/audit?format=json`);
    expect(status).toBe(200);
    const text = JSON.stringify(body, null, 4);
    expect(await verifyAudit(text, nodeDigests)).toMatchObject({ holds: true });
    const report = await verifyAudit(text.replace('"contactSeconds": 6', '"contactSeconds": 5'), nodeDigests);
    expect(report.holds).toBe(false);
    expect(report.findings.map(({ code, seq }) => ({ code, seq }))).toContainEqual({ code: 'entry-changed', seq: 5 });
  });

  it('stops a device at its fourth excursion, not at its third', async () => {
    const keep = { fate: 'keep', device: 'KEPT-1' };
    await shop.post(events('1002', [received(), removed(keep)]));
    await shop.post(
      events('1002b', [
        {
          type: 'heatbook.device.reballed.v1',
          subject: 'devices/KEPT-1',
          minute: 40,
          data: { ballAlloy: 'SAC305', ballDiameterMm: 0.5 },
        },
      ]),
    );
    expect(await holds('1002')).toEqual([]);
    await shop.post(
      events(
        '1002c',
        [
          { ...dressed(), minute: 50 },
          { ...placed('KEPT-1'), minute: 60 },
        ].map((said) => ({ ...said, subject: `${SHOP.assembly}/1002` })),
      ),
    );
    const [hold, ...others] = await holds('1002');
    expect(others).toEqual([]);
    expect(hold).toMatchObject({
      reason: 'device-excursions',
      subject: { kind: 'device', device: 'KEPT-1' },
      evidence: { used: 4, allowed: 3 },
    });
  });

  it('says shipped-open, and late-event when a clean shipment turns out not to have been one', async () => {
    await shop.post(events('1003', ordinaryJob('NEW-3')));
    expect(await holds('1003')).toEqual([]);
    const late = {
      ...inspected({ result: 'fail', defects: [{ code: 'lifted-pad', pads: ['A1'] }] }),
      minute: 85,
      id: 'kept-back',
    };
    await shop.post(events('1003', [late]));
    const reasons = (await holds('1003')).map(({ reason }) => reason);
    expect(reasons.sort()).toEqual(['damage-found', 'late-event', 'shipped-open']);
  });

  it('takes a late event that changes nothing without a word', async () => {
    await shop.post(events('1004', ordinaryJob('NEW-4')));
    await shop.post(
      events('1004', [
        { type: 'heatbook.site.cleaned.v1', data: { refdes: 'U7', agent: 'water' }, minute: 45, id: 'late-cleaning' },
      ]),
    );
    expect(await holds('1004')).toEqual([]);
    const { body } = await shop.call('GET', `/v1/units/${SHOP.assembly}/1004/ledger?order=asc&limit=100`);
    const entries = body['items'] as { type: string }[];
    expect(entries.map(({ type }) => type)).not.toContain('heatbook.entry.rejudged.v1');
  });

  it('withdraws a hold when the missing step comes in', async () => {
    const all = events('1005', await clearedJob(shop, '1005', 'NEW-5'));
    const removal = all[2];
    await shop.post(all.filter((event) => event !== removal));
    expect((await holds('1005')).map(({ reason }) => reason)).toContain('sequence-broken');
    await shop.post(removal === undefined ? [] : [removal]);
    expect(await holds('1005')).toEqual([]);
    const withdrawn = await holds('1005', '&state=withdrawn');
    expect(withdrawn.map(({ reason }) => reason)).toContain('sequence-broken');
    expect(await unit('1005')).toMatchObject({ holds: [], warnings: [] });
  });

  it('parks what the setup does not know, and takes it up again when it does', async () => {
    const event = { ...events('1006', [received()])[0], subject: 'NOT-YET/1006', id: 'parked-1' };
    await shop.post([event]);
    const status = await shop.call('GET', `/v1/events?source=/stations/${SHOP.bench}&id=parked-1`);
    expect(status.body).toMatchObject({ state: 'parked', holds: [{ reason: 'event-parked' }] });
    const { body } = await shop.call('GET', `/v1/assemblies/${SHOP.assembly}`);
    const { customer, description, leadFree, assemblyReflows, sites } = body;
    await shop.call('PUT', '/v1/assemblies/NOT-YET', { customer, description, leadFree, assemblyReflows, sites });
    const retried = await shop.call('POST', '/v1/events/retries', {
      source: `/stations/${SHOP.bench}`,
      id: 'parked-1',
    });
    expect(retried.body).toMatchObject({ retried: 1 });
    await shop.post([]);
    const after = await shop.call('GET', `/v1/events?source=/stations/${SHOP.bench}&id=parked-1`);
    expect(after.body).toMatchObject({ state: 'applied', holds: [{ reason: 'event-parked', state: 'withdrawn' }] });
  });

  it('takes 990 of a batch of 1000 and says precisely what is wrong with ten', async () => {
    const good = Array.from({ length: 1000 }, (_, n) => ({
      ...received(),
      id: `bulk-${String(n)}`,
      serial: String(2000 + n),
    }));
    const batch = good.map(({ serial, ...said }) => events(serial, [said])[0] as Record<string, unknown>);
    const spoilt = batch.map((event, n) => (n % 100 === 50 ? { ...event, data: { priorReflows: 'two' } } : event));
    const { status, body } = await shop.post(spoilt);
    expect({ status, accepted: body['accepted'], rejected: body['rejected'] }).toEqual({
      status: 202,
      accepted: 990,
      rejected: 10,
    });
    const rejected = (
      body['items'] as { state: string; problem?: { status: number; errors: { pointer: string }[] } }[]
    ).filter(({ state }) => state === 'rejected');
    expect(rejected.map(({ problem }) => [problem?.status, problem?.errors[0]?.pointer])).toEqual(
      Array.from({ length: 10 }, () => [422, '/data/priorReflows']),
    );
  });

  it('tells a duplicate from a reused id', async () => {
    const [event] = events('1007', [received()]);
    const single = (body: unknown): Promise<{ status: number; body: Record<string, unknown> }> =>
      shop.call('POST', '/v1/events', body, { type: 'application/cloudevents+json' });
    expect(await single(event)).toMatchObject({ status: 202, body: { accepted: 1 } });
    expect(await single(event)).toMatchObject({ status: 202, body: { duplicates: 1 } });
    expect(await single({ ...event, data: { workOrder: 'WO-2' } })).toMatchObject({
      status: 409,
      body: { status: 409 },
    });
  });

  it('lets a station speak for itself only', async () => {
    const issued = await shop.call('POST', `/v1/stations/${SHOP.bench}/keys`);
    expect(issued.status).toBe(201);
    const key = String(issued.body['key']);
    const [event] = events('1008', [received()]);
    const foreign = { ...event, source: '/stations/OTHER' };
    const single = { key, type: 'application/cloudevents+json' };
    expect((await shop.call('POST', '/v1/events', foreign, single)).status).toBe(403);
    expect((await shop.call('POST', '/v1/events', event, single)).status).toBe(202);
    expect((await shop.call('GET', '/v1/holds', undefined, { key })).status).toBe(403);
    expect((await shop.call('GET', '/v1/holds', undefined, { key: null })).status).toBe(401);
  });

  it('lets people hold, decide and release, with all of it in the ledger', async () => {
    await shop.post(events('1009', [received()]));
    const raised = await shop.call('POST', '/v1/holds', {
      subject: { kind: 'unit', assembly: SHOP.assembly, serial: '1009' },
      note: 'box was wet',
    });
    expect(raised.status).toBe(201);
    await shop.post(
      events('1009', [{ ...shipped(), minute: 600, id: 'early' }]).map((event) => ({
        ...event,
        time: new Date(Date.now() + 1000).toISOString(),
      })),
    );
    expect((await holds('1009')).map(({ reason }) => reason).sort()).toEqual(['by-hand', 'shipped-open']);
    const path = `/v1/holds/${String(raised.body['id'])}`;
    const [quinn, ada] = [await shop.person('quinn', ['quality']), await shop.person('ada', ['approver'])];
    const note = 'dried and checked';
    const disposition = { decision: 'use-as-is', note, signature: quinn.signature() };
    expect((await quinn.call('POST', `${path}/dispositions`, disposition)).status).toBe(201);
    expect((await ada.call('POST', `${path}/release`, { note, signature: ada.signature() })).status).toBe(200);
    expect((await ada.call('POST', `${path}/release`, { note, signature: ada.signature() })).status).toBe(409);
    const { body } = await shop.call('GET', `/v1/units/${SHOP.assembly}/1009/ledger`);
    const types = (body['items'] as { type: string }[]).map(({ type }) => type);
    expect(types.slice(0, 4)).toEqual([
      'heatbook.hold.released.v1',
      'heatbook.hold.disposed.v1',
      'heatbook.unit.shipped.v1',
      'heatbook.hold.raised.v1',
    ]);
  });

  it('takes the cursor of a ledger in that list only', async () => {
    await shop.post(events('1011', [received(), removed(), dressed()]));
    await shop.post(events('1012', [received(), removed(), dressed()]));
    const ledger = (serial: string, query: string) =>
      shop.call('GET', `/v1/units/${SHOP.assembly}/${serial}/ledger?limit=1${query}`);
    const cursor = String((await ledger('1011', '')).body['nextCursor']);
    expect((await ledger('1011', `&cursor=${cursor}`)).status).toBe(200);
    expect((await ledger('1011', `&order=asc&cursor=${cursor}`)).status).toBe(422);
    expect((await ledger('1012', `&cursor=${cursor}`)).status).toBe(422);
  });

  it('does not let a limit become one of another kind, nor a yes-or-no limit take a figure', async () => {
    const limit = {
      kind: 'site-reworks',
      allowed: 2,
      unit: 'reworks',
      action: 'hold',
      source: 'house',
      scope: { part: 'P-NONE' },
    };
    expect((await shop.call('PUT', '/v1/limits/ours', limit)).status).toBe(201);
    const other = await shop.call('PUT', '/v1/limits/ours', { ...limit, kind: 'guard-band' });
    expect(other).toMatchObject({ status: 422, body: { errors: [{ pointer: '/kind' }] } });
    const figure = { ...limit, kind: 'qualified-operator', allowed: 3 };
    expect(await shop.call('PUT', '/v1/limits/theirs', figure)).toMatchObject({
      status: 422,
      body: { errors: [{ pointer: '/allowed' }] },
    });
  });

  it('counts a measured neighbour and only mentions a possible one', async () => {
    const hot = heat({ position: 'joint', peakC: 236 }, { position: 'body', refdes: 'U8', peakC: 222 });
    const unprofiled = { name: 'NOT-ENTERED', revision: 'A' };
    await shop.post(events('1010', [received(), removed({ heat: hot, profile: unprofiled })]));
    const { budgets, warnings } = await unit('1010');
    const device = (refdes: string): unknown =>
      (budgets as { subject: { device?: string } }[]).find(
        ({ subject }) => subject.device === `${SHOP.assembly}:1010:${refdes}`,
      );
    expect(device('U8')).toMatchObject({ used: 2, possible: 0 });
    expect(device('U9')).toMatchObject({ used: 2, possible: 1 });
    expect((warnings as { code: string }[]).map(({ code }) => code).sort()).toEqual([
      // Nobody had asked for it.
      'clearance-required',
      // The body beside it got above 200 C, and nobody had baked the board.
      'floor-life',
      'neighbour-possible',
      'profile-unknown',
    ]);
  });
});
