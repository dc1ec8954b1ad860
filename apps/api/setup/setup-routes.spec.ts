import { problem, textLike } from '../spec-support/matchers.js';
import { enterSampleSetup, SAMPLE_PART, sampleAssembly } from '../spec-support/sample-setup.js';
import { SpecApi, startApi } from '../spec-support/start-api.js';

describe('setup routes', () => {
  let api: SpecApi;

  beforeAll(async () => {
    api = await startApi();
    await enterSampleSetup(api);
  });

  afterAll(() => api.close());

  it('creates with 201, revises with 200, and keeps the revision where nothing changed', async () => {
    const put = (thicknessMm: number) => api.ask('PUT', '/v1/parts/P-1', { body: { ...SAMPLE_PART, thicknessMm } });
    expect(await put(1.4)).toMatchObject({ status: 201, body: { name: 'P-1', revision: 1, by: 'admin', msl: '3' } });
    expect(await put(1.4)).toMatchObject({ status: 200, body: { revision: 1 } });
    expect(await put(1.5)).toMatchObject({ status: 200, body: { revision: 2, thicknessMm: 1.5 } });
    const history = await api.ask('GET', '/v1/parts/P-1/revisions');
    expect(history.body).toMatchObject({ items: [{ revision: 2 }, { revision: 1 }], nextCursor: null });
    expect((await api.ask('GET', '/v1/parts/P-1')).body).toMatchObject({ revision: 2 });
  });

  it('assumes what the table lets one leave out', async () => {
    const { assemblyReflows, ...body } = sampleAssembly();
    expect(assemblyReflows).toBeDefined();
    expect((await api.ask('PUT', '/v1/assemblies/BRD-2', { body })).body).toMatchObject({ assemblyReflows: 1 });
    const profile = { purpose: 'removal', alloy: 'SAC305' };
    const put = await api.ask('PUT', '/v1/profiles/REMOVE/revisions/A', { body: profile });
    expect(put).toMatchObject({ status: 201, body: { name: 'REMOVE@A', neighbourPeaks: [] } });
    const limit = { kind: 'site-reworks', allowed: 2, unit: 'reworks', action: 'hold', source: 'Policy' };
    expect((await api.ask('PUT', '/v1/limits/strict', { body: limit })).body).toMatchObject({ scope: {} });
  });

  it('keeps each profile revision as a record with a history of its own', async () => {
    const body = { purpose: 'placement', alloy: 'SAC305' };
    for (const revision of ['A', 'B']) await api.ask('PUT', `/v1/profiles/PLACE/revisions/${revision}`, { body });
    await api.ask('PUT', '/v1/profiles/PLACE/revisions/B', { body: { ...body, purpose: 'placement, slower' } });
    expect((await api.ask('GET', '/v1/profiles/PLACE/revisions')).body).toMatchObject({
      items: [{ name: 'PLACE@A' }, { name: 'PLACE@B', revision: 2 }],
    });
    expect((await api.ask('GET', '/v1/profiles/PLACE/revisions/B/history')).body).toMatchObject({
      items: [{ revision: 2 }, { revision: 1 }],
    });
  });

  it('pages lists by name and refuses a cursor that it did not give', async () => {
    const names: string[] = [];
    let cursor = '';
    for (;;) {
      const { body } = await api.ask('GET', `/v1/limits?limit=7${cursor}`);
      const page = body as { items: { name: string }[]; nextCursor: string | null };
      names.push(...page.items.map(({ name }) => name));
      if (page.nextCursor === null) break;
      cursor = `&cursor=${page.nextCursor}`;
    }
    expect(names).toEqual([...new Set(names)].sort());
    expect(names.length).toBeGreaterThanOrEqual(17);
    expect((await api.ask('GET', '/v1/limits?cursor=bm9wZQ')).body).toEqual(problem('invalid-query', 422));
    expect((await api.ask('GET', '/v1/limits?limit=0')).body).toMatchObject({ errors: [{ pointer: '/limit' }] });
  });

  it('points at every field that is wrong', async () => {
    const body = sampleAssembly();
    const [u1, u2] = body.sites;
    const wrong = {
      ...body,
      colour: 'green',
      sites: [
        { ...u1, jointAlloy: 'SAC999', neighbours: [{ refdes: 'U2', gapMm: -1 }] },
        { ...u2, pads: 1.5 },
      ],
    };
    const answer = await api.ask('PUT', '/v1/assemblies/BRD-3', { body: wrong });
    expect(answer.body).toEqual(problem('invalid-body', 422));
    const { errors } = answer.body as { errors: { pointer: string; detail: string }[] };
    expect(errors.map(({ pointer }) => pointer).sort()).toEqual([
      '/colour',
      '/sites/0/jointAlloy',
      '/sites/0/neighbours/0/gapMm',
      '/sites/1/pads',
    ]);
    expect(errors.find(({ pointer }) => pointer === '/sites/0/jointAlloy')?.detail).toContain('Sn63Pb37');
  });

  it('answers 404 for a record that is not there, with the way to enter it', async () => {
    expect((await api.ask('GET', '/v1/parts/NONE')).body).toMatchObject({ detail: textLike(/PUT/) });
    expect((await api.ask('POST', '/v1/stations/NONE/keys')).status).toBe(404);
  });
});
