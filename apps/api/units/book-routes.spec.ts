import { signInPerson } from '../../../test/support/signed-in-person.js';
import { problem, textLike } from '../spec-support/matchers.js';
import { enterSampleSetup, removalEvent, sampleEvent } from '../spec-support/sample-setup.js';
import { ADMIN_KEY, SpecApi, startApi } from '../spec-support/start-api.js';

describe('what the book knows', () => {
  let api: SpecApi;

  beforeAll(async () => {
    api = await startApi();
    await enterSampleSetup(api);
  });

  afterAll(() => api.close());

  beforeAll(async () => {
    const limit = { kind: 'site-reworks', allowed: 2, unit: 'reworks', action: 'hold', source: 'Policy' };
    await api.ask('PUT', '/v1/limits/strict', { body: { ...limit, scope: { assembly: 'BRD-1' } } });
    const receipt = sampleEvent('heatbook.unit.received.v1', { workOrder: 'WO-7' });
    await api.ask('POST', '/v1/events', { body: [receipt, removalEvent({ id: 'removal-1' })] });
    await api.fold();
  });

  it('shows what a unit has spent and what is left, with the grounds', async () => {
    const { body } = await api.ask('GET', '/v1/units/BRD-1/S1');
    expect(body).toMatchObject({
      assembly: 'BRD-1',
      customer: 'Nordlicht Instruments',
      state: 'in-house',
      workOrder: 'WO-7',
      headHash: textLike(/^[0-9a-f]{64}$/),
      sites: [
        { refdes: 'U1', device: null, condition: 'bare' },
        { refdes: 'U2', device: 'BRD-1:S1:U2', disputed: false },
      ],
      moisture: { state: 'unknown' },
    });
    const { budgets } = body as { budgets: { limit: string; subject: { refdes?: string } }[] };
    const reworks = budgets.find(({ limit, subject }) => limit === 'site-reworks' && subject.refdes === 'U1');
    expect(reworks).toMatchObject({ used: 1, allowed: 2, remaining: 1, reserved: 0, rule: { name: 'strict' } });
  });

  it('finds a device that nothing has happened to yet, by the place it is named after', async () => {
    await api.ask('POST', '/v1/events', {
      body: sampleEvent('heatbook.unit.received.v1', {}, { subject: 'BRD-1/A:B' }),
    });
    await api.fold();
    const { body } = await api.ask('GET', '/v1/devices/BRD-1:A:B:U2');
    expect(body).toMatchObject({ status: 'mounted', place: { serial: 'A:B', refdes: 'U2' }, counted: [] });
    expect(body).toMatchObject({ budgets: [{ used: 2, basis: 'assumed', remaining: 1 }] });
    expect((await api.ask('GET', '/v1/devices/BRD-1:A:B:U2/ledger')).body).toEqual({ items: [], nextCursor: null });
    expect((await api.ask('GET', '/v1/devices/BRD-1:A:B:U7')).body).toEqual(problem('not-found', 404));
  });

  it('lists units and pages through a ledger in both directions', async () => {
    const rows = await api.ask('GET', '/v1/units?assembly=BRD-1&serial=S1&state=in-house');
    expect(rows.body).toMatchObject({ items: [{ assembly: 'BRD-1', serial: 'S1' }], nextCursor: null });
    const newest = (await api.ask('GET', '/v1/units/BRD-1/S1/ledger?limit=1')).body as {
      items: { seq: number }[];
      nextCursor: string;
    };
    expect(newest).toMatchObject({ items: [{ seq: 2, type: 'heatbook.device.removed.v1' }] });
    const older = await api.ask('GET', `/v1/units/BRD-1/S1/ledger?limit=1&cursor=${newest.nextCursor}`);
    expect(older.body).toMatchObject({ items: [{ seq: 1 }], nextCursor: null });
    const oldest = await api.ask('GET', '/v1/units/BRD-1/S1/ledger?order=asc&type=heatbook.unit.received.v1');
    expect(oldest.body).toMatchObject({ items: [{ seq: 1, event: { source: '/stations/HG-1' } }] });
    expect((await api.ask('GET', '/v1/units/BRD-1/NONE/ledger')).status).toBe(404);
  });

  it('begins a ledger where it is told, in both directions, and goes on from there', async () => {
    const shown = async (query: string): Promise<{ seqs: number[]; nextCursor: string | null }> => {
      const { body } = await api.ask('GET', `/v1/units/BRD-1/S1/ledger?${query}`);
      const { items, nextCursor } = body as { items: { seq: number }[]; nextCursor: string | null };
      return { seqs: items.map(({ seq }) => seq), nextCursor };
    };
    expect(await shown('from=2&order=asc')).toEqual({ seqs: [2], nextCursor: null });
    expect(await shown('from=1')).toEqual({ seqs: [1], nextCursor: null });
    expect(await shown('from=9&order=asc')).toEqual({ seqs: [], nextCursor: null });
    expect((await shown('from=9')).seqs).toEqual([2, 1]);
    const { seqs, nextCursor } = await shown('from=2&limit=1');
    expect(seqs).toEqual([2]);
    expect(await shown(`from=2&limit=1&cursor=${nextCursor ?? ''}`)).toEqual({ seqs: [1], nextCursor: null });
    for (const query of [`from=3&cursor=${nextCursor ?? ''}`, `cursor=${nextCursor ?? ''}`, 'from=0', 'from=x']) {
      const { body } = await api.ask('GET', `/v1/units/BRD-1/S1/ledger?${query}`);
      expect([query, body]).toEqual([query, problem('invalid-query', 422)]);
    }
    expect((await api.ask('GET', '/v1/units/BRD-1/NONE/ledger?from=1')).status).toBe(404);
  });

  it('raises a hold by hand, lists, explains and releases it once', async () => {
    const raised = await api.ask('POST', '/v1/holds', {
      body: { assembly: 'BRD-1', serial: 'S1', refdes: 'U2', note: 'Scratch beside the site' },
    });
    expect(raised).toMatchObject({
      status: 201,
      body: { state: 'open', reason: 'by-hand', cause: { by: 'admin', note: 'Scratch beside the site' } },
    });
    const { id } = raised.body as { id: string };
    const listed = await api.ask('GET', '/v1/holds?state=open&reason=by-hand&assembly=BRD-1&serial=S1');
    expect(listed.body).toMatchObject({ items: [{ id }] });
    expect((await api.ask('GET', '/v1/holds/summary?reason=by-hand')).body).toMatchObject({
      open: 1,
      byCustomer: { 'Nordlicht Instruments': 1 },
    });
    expect((await api.ask('GET', `/v1/holds/${id}`)).body).toMatchObject({ causes: [], touched: true });
    expect((await api.ask('GET', '/v1/units/BRD-1/S1')).body).toMatchObject({ holds: [{ id }] });
    const [quinn, ada] = [
      await signInPerson(api.url, ADMIN_KEY, { name: 'quinn', roles: ['quality'] }),
      await signInPerson(api.url, ADMIN_KEY, { name: 'ada', roles: ['approver'] }),
    ];
    const note = 'Cosmetic only';
    const disposition = { decision: 'use-as-is', note, signature: quinn.signature() };
    expect((await quinn.call('POST', `/v1/holds/${id}/dispositions`, disposition)).status).toBe(201);
    const release = { note, signature: ada.signature() };
    expect(await ada.call('POST', `/v1/holds/${id}/release`, release)).toMatchObject({
      status: 200,
      body: { state: 'released', release: { by: 'ada', note } },
    });
    expect((await ada.call('POST', `/v1/holds/${id}/release`, release)).body).toEqual(problem('hold-not-open', 409));
    expect((await ada.call('POST', '/v1/holds/none/release', release)).status).toBe(404);
    expect((await api.ask('POST', '/v1/holds', { body: { note: 'nothing named' } })).status).toBe(422);
    expect((await api.ask('POST', '/v1/holds', { body: { device: 'none', note: 'x' } })).status).toBe(404);
  });

  it('explains a hold of the rules by the entries that called for it', async () => {
    const again = removalEvent({ id: 'removal-2' });
    await api.ask('POST', '/v1/events', { body: again });
    await api.fold();
    const { body } = await api.ask('GET', '/v1/holds?reason=sequence-broken&serial=S1');
    const [hold] = (body as { items: { id: string }[] }).items;
    const explained = await api.ask('GET', `/v1/holds/${hold?.id ?? ''}`);
    expect(explained.body).toMatchObject({
      cause: { source: '/stations/HG-1', id: 'removal-2' },
      causes: [{ id: 'removal-2', entries: [{ type: 'heatbook.device.removed.v1' }] }],
    });
  });
});
