import { anyText, problem, textLike } from '../spec-support/matchers.js';
import { enterSampleSetup, sampleEvent, stationKey } from '../spec-support/sample-setup.js';
import { ADMIN_KEY, SpecApi, startApi } from '../spec-support/start-api.js';

describe('keys', () => {
  let api: SpecApi;

  beforeAll(async () => {
    api = await startApi();
    await enterSampleSetup(api);
  });

  afterAll(() => api.close());

  it('asks for a key before anything else, unknown addresses under /v1 included', async () => {
    for (const path of ['/v1/units', '/v1/nothing']) {
      const answer = await api.ask('GET', path, { key: null });
      expect(answer.body).toEqual(problem('key-required', 401));
      expect(answer.headers.get('www-authenticate')).toContain('Bearer');
    }
  });

  it('refuses a key that it does not know without reading the body', async () => {
    const answer = await api.ask('POST', '/v1/events', { key: 'hbk_made-up', raw: '{' });
    expect(answer.status).toBe(401);
  });

  it('issues two keys for a station, lists them without their text, and says what to do about a third', async () => {
    await api.ask('PUT', '/v1/stations/K-1', { body: { kind: 'bench' } });
    const first = await api.ask('POST', '/v1/stations/K-1/keys');
    const second = await api.ask('POST', '/v1/stations/K-1/keys');
    const third = await api.ask('POST', '/v1/stations/K-1/keys');
    expect([first.status, second.status]).toEqual([201, 201]);
    expect(first.body).toEqual({ keyId: anyText, key: textLike(/^hbk_[\w-]{43}$/) });
    expect(third.body).toEqual(problem('too-many-keys', 409));
    const listed = await api.ask('GET', '/v1/stations/K-1/keys');
    expect(listed.body).toMatchObject({ items: [{ keyId: anyText }, { issuedAt: anyText }] });
    expect(listed.text).not.toContain('hbk_');
  });

  it('refuses a revoked key at once, though it had just been used', async () => {
    await api.ask('PUT', '/v1/stations/K-2', { body: { kind: 'bench' } });
    const { body } = await api.ask('POST', '/v1/stations/K-2/keys');
    const { keyId, key } = body as { keyId: string; key: string };
    const path = '/v1/events?source=/stations/K-2&id=none';
    expect((await api.ask('GET', path, { key })).status).toBe(404);
    expect((await api.ask('DELETE', `/v1/stations/K-2/keys/${keyId}`)).status).toBe(204);
    expect((await api.ask('GET', path, { key })).status).toBe(401);
    expect((await api.ask('DELETE', `/v1/stations/K-2/keys/${keyId}`)).body).toEqual(problem('not-found', 404));
  });

  it('lets a station post and follow its own events and nothing else', async () => {
    const key = await stationKey(api, 'HG-1');
    const own = sampleEvent('heatbook.unit.received.v1', {}, { subject: 'BRD-1/OWN' });
    const foreign = sampleEvent('heatbook.unit.received.v1', {}, { source: '/stations/K-1' });
    const type = 'application/cloudevents+json';
    expect((await api.ask('POST', '/v1/events', { key, body: own, type })).status).toBe(202);
    expect((await api.ask('POST', '/v1/events', { key, body: foreign, type })).body).toEqual(
      problem('foreign-source', 403),
    );
    expect((await api.ask('GET', '/v1/events?source=/stations/K-1&id=x', { key })).body).toEqual(
      problem('foreign-source', 403),
    );
    for (const path of ['/v1/units', '/v1/holds', '/v1/events/parked', '/v1/limits', '/v1/units/BRD-1/OWN/audit']) {
      expect((await api.ask('GET', path, { key })).body).toEqual(problem('not-allowed', 403));
    }
  });

  it('lets a station read what its work is described by, and of stations itself alone', async () => {
    const key = await stationKey(api, 'HG-1');
    for (const path of ['/v1/stations/HG-1', '/v1/parts/LOGIC-1', '/v1/parts/LOGIC-1/classification', '/v1/profiles'])
      expect([path, (await api.ask('GET', path, { key })).status]).toEqual([path, 200]);
    for (const path of [
      '/v1/stations/K-1',
      '/v1/stations',
      '/v1/assemblies/BRD-1',
      '/v1/people',
      '/v1/stations/HG-1/keys',
    ])
      expect((await api.ask('GET', path, { key })).body).toEqual(problem('not-allowed', 403));
    for (const path of ['/v1/stations/HG-1', '/v1/parts/LOGIC-1'])
      expect((await api.ask('PUT', path, { key, body: {} })).body).toEqual(problem('not-allowed', 403));
  });

  it('writes no key into its log', () => {
    expect(api.lines.join('\n')).not.toMatch(new RegExp(`hbk_|${ADMIN_KEY}`));
    expect(api.lines.length).toBeGreaterThan(0);
  });
});
