import { enterSampleSetup, removalEvent } from '../spec-support/sample-setup.js';
import { SpecApi, startApi } from '../spec-support/start-api.js';

describe('without a key', () => {
  let api: SpecApi;

  beforeAll(async () => {
    api = await startApi();
    await enterSampleSetup(api);
  });

  afterAll(() => api.close());

  it('tells whether it lives and is ready', async () => {
    expect((await api.ask('GET', '/health/live', { key: null })).body).toEqual({ ok: true });
    expect(await api.ask('GET', '/health/ready', { key: null })).toMatchObject({ status: 200, body: { ok: true } });
    api.readiness = 'failing';
    expect(await api.ask('GET', '/health/ready', { key: null })).toMatchObject({ status: 503, body: { ok: false } });
    api.readiness = 'throws';
    const broken = await api.ask('GET', '/health/ready', { key: null });
    expect(broken.status).toBe(503);
    expect(broken.text).not.toContain('database is away');
    api.readiness = 'ok';
  });

  it('gives its figures without naming a unit or a customer', async () => {
    await api.ask('POST', '/v1/events', { body: [removalEvent(), removalEvent()] });
    await api.fold();
    await api.ask('GET', '/v1/units/BRD-1/S1');
    const { text, status, headers } = await api.ask('GET', '/metrics', { key: null });
    expect(status).toBe(200);
    expect(headers.get('content-type')).toContain('text/plain');
    expect(text).toMatch(/heatbook_events_total\{state="accepted"\} [1-9]/);
    expect(text).toMatch(/heatbook_http_request_seconds_count\{method="GET",route="\/v1\/units\/:assembly\/:serial"/);
    expect(text).toContain('heatbook_holds_open{reason="sequence-broken"} 1');
    expect(text).toContain('heatbook_log_trouble 0');
    expect(text).toMatch(/heatbook_log_waiting [1-9]/);
    expect(text).not.toMatch(/BRD-1|Nordlicht/);
  });
});
