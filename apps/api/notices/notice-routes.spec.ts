import { problem } from '../spec-support/matchers.js';
import { enterSampleSetup, stationKey } from '../spec-support/sample-setup.js';
import { SpecApi, startApi } from '../spec-support/start-api.js';

interface Listed {
  readonly items: readonly { readonly id: string; readonly dueAt: string }[];
  readonly nextCursor: string | null;
}

function hence(days: number): string {
  return new Date(Date.now() + days * 86_400_000).toISOString();
}

describe('notices over HTTP', () => {
  let api: SpecApi;
  const soon = hence(3);
  const past = hence(-3);

  beforeAll(async () => {
    api = await startApi();
    await enterSampleSetup(api);
    await api.ask('PUT', '/v1/stations/HG-1', { body: { kind: 'hot-gas', calibrationDueAt: soon } });
    const qualifications = [{ skill: 'vacuum', validUntil: past }];
    await api.ask('PUT', '/v1/operators/ann', { body: { qualifications } });
    await api.raiseNotices();
  });

  afterAll(() => api.close());

  it('are listed by their instant, narrowed down, and paged', async () => {
    const { status, body } = await api.ask('GET', '/v1/notices');
    expect(status).toBe(200);
    expect(body).toMatchObject({
      items: [
        {
          kind: 'qualification',
          level: 'due',
          state: 'open',
          subject: { kind: 'operator', operator: 'ann' },
          skill: 'vacuum',
          dueAt: past,
        },
        { kind: 'calibration', level: 'ahead', subject: { kind: 'station', station: 'HG-1' }, dueAt: soon },
      ],
      nextCursor: null,
    });
    const first = (await api.ask('GET', '/v1/notices?limit=1')).body as Listed;
    const second = (await api.ask('GET', `/v1/notices?limit=1&cursor=${String(first.nextCursor)}`)).body as Listed;
    expect([first, second].map(({ items }) => items[0]?.dueAt)).toEqual([past, soon]);
    const ahead = (await api.ask('GET', '/v1/notices?level=ahead&state=open')).body as Listed;
    expect(ahead.items).toHaveLength(1);
    expect(((await api.ask('GET', '/v1/notices?kind=moisture')).body as Listed).items).toEqual([]);
    expect((await api.ask('GET', '/v1/notices?state=lost')).body).toEqual(problem('invalid-query', 422));
    expect((await api.ask('GET', '/v1/notices?cursor=abc')).body).toEqual(problem('invalid-query', 422));
  });

  it('are counted by kind', async () => {
    const { text } = await api.ask('GET', '/metrics', { key: null });
    expect(text).toContain('heatbook_notices_open{kind="calibration"} 1');
    expect(text).toContain('heatbook_notices_open{kind="moisture"} 0');
  });

  it('are acknowledged once, by name and with a note', async () => {
    const { items } = (await api.ask('GET', '/v1/notices?kind=calibration')).body as Listed;
    const path = `/v1/notices/${items[0]?.id ?? ''}/acknowledgement`;
    const answer = await api.ask('POST', path, { body: { note: 'Goes out on Friday.' } });
    expect(answer).toMatchObject({ status: 200, body: { state: 'acknowledged', note: 'Goes out on Friday.' } });
    expect(answer.body).toHaveProperty('acknowledgedBy');
    expect((await api.ask('POST', path, { body: {} })).body).toEqual(problem('notice-not-open', 409));
    const unknown = '/v1/notices/00000000-0000-4000-8000-000000000000/acknowledgement';
    expect((await api.ask('POST', unknown, { body: {} })).body).toEqual(problem('not-found', 404));
    expect((await api.ask('POST', '/v1/notices/x/acknowledgement', { body: {} })).body).toEqual(
      problem('not-found', 404),
    );
    const { text } = await api.ask('GET', '/metrics', { key: null });
    expect(text).toContain('heatbook_notices_open{kind="calibration"} 0');
  });

  it('are not for stations', async () => {
    const key = await stationKey(api, 'HG-1');
    expect((await api.ask('GET', '/v1/notices', { key })).body).toEqual(problem('not-allowed', 403));
    expect((await api.ask('GET', '/v1/notices', { key: null })).body).toEqual(problem('key-required', 401));
  });
});
