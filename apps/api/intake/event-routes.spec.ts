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
