import { anyNumber, problem } from '../spec-support/matchers.js';
import { enterSampleSetup, sampleAssembly, sampleEvent } from '../spec-support/sample-setup.js';
import { SpecApi, startApi } from '../spec-support/start-api.js';

describe('event routes', () => {
  let api: SpecApi;

  beforeAll(async () => {
    api = await startApi();
    await enterSampleSetup(api);
  });

  afterAll(() => api.close());

  it('takes an event, knows it again, and refuses other content under its id', async () => {
    const event = sampleEvent('heatbook.unit.received.v1', {}, { subject: 'BRD-1/TWICE' });
    const post = (body: object) => api.ask('POST', '/v1/events', { body, type: 'application/cloudevents+json' });
    expect(await post(event)).toMatchObject({ status: 202, body: { accepted: 1, items: [{ state: 'accepted' }] } });
    expect(await post(event)).toMatchObject({ status: 202, body: { duplicates: 1 } });
    expect((await post({ ...event, subject: 'BRD-1/OTHER' })).body).toEqual(problem('event-conflict', 409));
    expect((await post({ ...event, id: 'new', colour: {} })).body).toEqual(problem('wrong-shape', 422));
  });

  it('takes batches and streams, in which bad items do not spoil good ones', async () => {
    const good = sampleEvent('heatbook.unit.received.v1', {}, { subject: 'BRD-1/B1' });
    const other = sampleEvent('heatbook.unit.received.v1', {}, { subject: 'BRD-1/B2' });
    const bad = sampleEvent('heatbook.unit.received.v1', { priorReflows: 'two' });
    const batch = await api.ask('POST', '/v1/events', { body: [good, bad] });
    expect(batch).toMatchObject({ status: 202, body: { accepted: 1, rejected: 1 } });
    const raw = [good, other].map((event) => JSON.stringify(event)).join('\n');
    const stream = await api.ask('POST', '/v1/events', { raw, type: 'application/x-ndjson; charset=utf-8' });
    expect(stream).toMatchObject({ status: 202, body: { accepted: 1, duplicates: 1 } });
  });

  it('tells who runs the service what was refused, and why', async () => {
    const figure = async (name: string): Promise<number> => {
      const { text } = await api.ask('GET', '/metrics', { key: null });
      return Number(
        text
          .split('\n')
          .find((line) => line.startsWith(`${name} `))
          ?.split(' ')[1] ?? 0,
      );
    };
    const figures = async (): Promise<number[]> => [
      await figure('heatbook_intake_refused_total{cause="wrong-shape"}'),
      await figure('heatbook_intake_refused_total{cause="key-required"}'),
      await figure('heatbook_events_rejected_total{cause="wrong-shape"}'),
    ];
    const before = await figures();
    const bad = sampleEvent('heatbook.unit.received.v1', { priorReflows: 'two' });
    await api.ask('POST', '/v1/events', { body: bad });
    await api.ask('POST', '/v1/events', { body: [bad, bad] });
    expect((await api.ask('POST', '/v1/events', { body: bad, key: null })).status).toBe(401);
    expect((await figures()).map((now, n) => now - (before[n] ?? 0))).toEqual([1, 1, 3]);
  });

  it('keeps the request that brought an event, where it is named', async () => {
    const post = async (id: string, headers: Record<string, string>): Promise<unknown> => {
      const event = sampleEvent('heatbook.unit.received.v1', {}, { subject: `BRD-1/${id}`, id });
      await api.ask('POST', '/v1/events', { body: event, headers });
      const { body } = await api.ask('GET', `/v1/events?source=/stations/HG-1&id=${id}`);
      return (body as { request?: unknown }).request;
    };
    const traceparent = '00-0af7651916cd43dd8448eb211c80319c-b7ad6b7169203331-01';
    expect(await post('named', { 'x-request-id': 'bench.7' })).toEqual({ id: 'bench.7', traceparent: null });
    expect(await post('traced', { traceparent })).toEqual({ id: expect.any(String) as string, traceparent });
    expect(await post('nameless', {})).toBeUndefined();
    expect(await post('odd', { traceparent: '00-1-2-3', 'x-request-id': 'two words' })).toBeUndefined();
    await api.ask('GET', '/v1/units/BRD-1/NONE', { headers: { traceparent } });
    expect(api.lines.join()).toContain('"traceId":"0af7651916cd43dd8448eb211c80319c"');
  });

  it('shows parked events and tries them again once the cause is mended', async () => {
    const event = sampleEvent('heatbook.unit.received.v1', {}, { subject: 'BRD-9/S1', id: 'park-1' });
    await api.ask('POST', '/v1/events', { body: event });
    const status = () => api.ask('GET', '/v1/events?source=/stations/HG-1&id=park-1');
    expect((await status()).body).toMatchObject({ state: 'pending', entries: [], holds: [] });
    await api.fold();
    expect((await status()).body).toMatchObject({
      state: 'parked',
      reason: { code: 'unknown-assembly' },
      holds: [{ reason: 'event-parked' }],
    });
    expect((await api.ask('GET', '/v1/events/parked')).body).toMatchObject({ items: [{ id: 'park-1' }] });
    await api.ask('PUT', '/v1/assemblies/BRD-9', { body: sampleAssembly() });
    const ref = { source: '/stations/HG-1', id: 'park-1' };
    expect(await api.ask('POST', '/v1/events/retries', { body: ref })).toMatchObject({ body: { retried: 1 } });
    await api.fold();
    expect((await status()).body).toMatchObject({ state: 'applied', entries: [{ seq: anyNumber }] });
    expect(await api.ask('POST', '/v1/events/retries', { body: { all: true } })).toMatchObject({
      status: 200,
      body: { retried: 0 },
    });
    expect((await api.ask('POST', '/v1/events/retries', { body: {} })).body).toEqual(problem('invalid-body', 422));
  });
});
