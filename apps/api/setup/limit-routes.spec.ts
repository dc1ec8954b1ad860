import { problem } from '../spec-support/matchers.js';
import { enterSampleSetup, removalEvent, stationKey } from '../spec-support/sample-setup.js';
import { SpecApi, startApi } from '../spec-support/start-api.js';

const REWORKS = { kind: 'site-reworks', allowed: 0, unit: 'reworks', action: 'hold', source: 'Agreed' };

describe('limits over HTTP', () => {
  let api: SpecApi;

  beforeAll(async () => {
    api = await startApi();
    await enterSampleSetup(api);
    const removal = removalEvent();
    const { body } = await api.ask('POST', '/v1/events', {
      body: [removal],
      type: 'application/cloudevents-batch+json',
    });
    expect(body).toMatchObject({ accepted: 1 });
    await api.fold();
  });
  afterAll(() => api.close());

  it('answer what if, and change nothing by it', async () => {
    const { status, body } = await api.ask('POST', '/v1/limits/site-reworks/what-if', { body: REWORKS });
    expect(status).toBe(200);
    expect(body).toMatchObject({
      limit: 'site-reworks',
      revision: 2,
      assessed: true,
      examined: { units: 1, looseDevices: 0 },
      newlyInBreach: {
        total: 1,
        items: [
          {
            subject: { kind: 'site', assembly: 'BRD-1', serial: 'S1' },
            unit: { assembly: 'BRD-1', serial: 'S1' },
            now: { used: 1, allowed: 3, breach: 'none', limit: { name: 'site-reworks', revision: 1 } },
            then: { used: 1, allowed: 0, breach: 'hold', limit: { name: 'site-reworks', revision: 2 } },
            hold: null,
          },
        ],
      },
      noLongerInBreach: { total: 0, items: [] },
    });
    expect((await api.ask('GET', '/v1/limits/site-reworks')).body).toMatchObject({ revision: 1, allowed: 3 });
  });

  it('say which kinds cannot be answered for, and why', async () => {
    const body = { kind: 'guard-band', allowed: 10, unit: 'C', action: 'warn', source: 'Agreed' };
    const answer = await api.ask('POST', '/v1/limits/guard-band/what-if', { body });
    expect(answer.body).toMatchObject({ assessed: false, why: expect.stringContaining('counted') as string });
  });

  it('refuse a draft as they refuse a revision', async () => {
    const draft = { ...REWORKS, allowed: 'many' };
    const { body } = await api.ask('POST', '/v1/limits/site-reworks/what-if', { body: draft });
    expect(body).toEqual(problem('invalid-body', 422));
    expect(body).toMatchObject({ errors: [{ pointer: '/allowed' }] });
  });

  it('are no business of a station', async () => {
    const key = await stationKey(api, 'HG-1');
    const { status } = await api.ask('POST', '/v1/limits/site-reworks/what-if', { body: REWORKS, key });
    expect(status).toBe(403);
  });

  it('keep when a revision takes effect, and refuse what is no time', async () => {
    const put = (effectiveFrom: string) =>
      api.ask('PUT', '/v1/limits/late', { body: { ...REWORKS, scope: { refdes: 'U9' }, effectiveFrom } });
    expect((await put('tomorrow')).body).toMatchObject({ errors: [{ pointer: '/effectiveFrom' }] });
    expect((await put('2099-01-01T00:00:00Z')).body).toMatchObject({
      revision: 1,
      effectiveFrom: '2099-01-01T00:00:00Z',
      recheck: { state: 'waiting', effectiveAt: '2099-01-01T00:00:00Z', subjects: 0 },
    });
  });

  it('show what became of judging anew', async () => {
    const { body } = await api.ask('PUT', '/v1/limits/site-reworks', { body: REWORKS });
    expect(body).toMatchObject({ revision: 2, by: 'admin', recheck: { state: 'waiting' } });
    await api.recheckLimits();
    const done = { limit: 'site-reworks', revision: 2, state: 'done', subjects: 1, holdsRaised: 1 };
    expect((await api.ask('GET', '/v1/limits/site-reworks')).body).toMatchObject({ recheck: done });
    expect((await api.ask('GET', '/v1/limits/site-reworks/rechecks')).body).toMatchObject({ items: [done] });
    expect((await api.ask('GET', '/v1/limits/site-reworks/revisions')).body).toMatchObject({
      items: [{ recheck: done }, { revision: 1, recheck: { state: 'none' } }],
    });
    expect((await api.ask('GET', '/v1/holds?reason=site-reworks')).body).toMatchObject({
      items: [{ evidence: { used: 1, allowed: 0, limit: { revision: 2 } } }],
    });
  });

  it('have no rechecks where there is no such limit', async () => {
    expect((await api.ask('GET', '/v1/limits/none-such/rechecks')).body).toEqual(problem('not-found', 404));
  });
});
