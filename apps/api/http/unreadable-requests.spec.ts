import { problem } from '../spec-support/matchers.js';
import { enterSampleSetup } from '../spec-support/sample-setup.js';
import { SpecApi, startApi } from '../spec-support/start-api.js';

function manyMembers(count: number): string {
  return JSON.stringify(Object.fromEntries(Array.from({ length: count }, (_, n) => [`k${String(n)}`, n])));
}

describe('requests that cannot be read', () => {
  let api: SpecApi;

  beforeAll(async () => {
    api = await startApi();
    await enterSampleSetup(api);
  });

  afterAll(() => api.close());

  it.each([
    ['text that is not JSON', 'PUT', '/v1/parts/X', '{', 'unreadable-json', 400],
    ['a key given twice', 'PUT', '/v1/parts/X', '{"msl":"3","msl":"4"}', 'unreadable-json', 400],
    ['an empty body', 'POST', '/v1/holds', '', 'unreadable-json', 400],
    ['a list for an object', 'PUT', '/v1/parts/X', '[]', 'invalid-body', 422],
    ['null for an object', 'PUT', '/v1/parts/X', 'null', 'invalid-body', 422],
    ['a name that cannot be', 'PUT', '/v1/parts/a%20b', '{}', 'invalid-name', 422],
  ])('refuses %s', async (_what, method, path, raw, code, status) => {
    expect((await api.ask(method, path, { raw })).body).toEqual(problem(code, status));
  });

  it('tells a wrong method from a wrong address', async () => {
    const method = await api.ask('DELETE', '/v1/units/BRD-1/S1');
    expect(method.body).toEqual(problem('method-not-allowed', 405));
    expect(method.headers.get('allow')).toContain('GET');
    expect((await api.ask('GET', '/v1/nothing')).body).toEqual(problem('no-such-route', 404));
  });

  it('refuses content types and sizes that it does not take, but takes large bodies of events', async () => {
    const large = ' '.repeat(1024 * 1024 + 1);
    const xml = await api.ask('POST', '/v1/holds', { raw: '<a/>', type: 'application/xml' });
    expect(xml.body).toEqual(problem('unknown-media-type', 415));
    const stream = await api.ask('POST', '/v1/holds', { raw: '{}', type: 'application/x-ndjson' });
    expect(stream.body).toEqual(problem('unknown-media-type', 415));
    expect((await api.ask('POST', '/v1/holds', { raw: large })).body).toEqual(problem('too-large', 413));
    const events = await api.ask('POST', '/v1/events', { raw: `[${large}]` });
    expect(events).toMatchObject({ status: 202, body: { accepted: 0 } });
    const huge = await api.ask('POST', '/v1/events', { raw: large.repeat(9), type: 'application/x-ndjson' });
    expect(huge.body).toEqual(problem('too-large', 413));
  });

  it.each([
    ['{"note":"x","device":"D","constructor":1}', '/constructor'],
    ['{"note":"x","device":"D","__proto__":{"a":1}}', '/__proto__'],
    ['{"note":"x","device":"D","toString":1}', '/toString'],
    ['{"device":"D","note":"nul \\u0000"}', '/note'],
    ['{"device":"D","note":"half \\ud800"}', '/note'],
  ])('refuses members and text that would go unseen or could not be kept: %s', async (raw, pointer) => {
    expect((await api.ask('POST', '/v1/holds', { raw })).body).toMatchObject({ status: 422, errors: [{ pointer }] });
  });

  it.each<[string, string, string, string?]>([
    ['members', manyMembers(201), ''],
    ['members within', `{"name":"x","password":${manyMembers(201)}}`, '/password'],
    ['items', `{"name":[${'1,'.repeat(1_000)}1],"password":"x"}`, '/name'],
    ['members by the thousand', manyMembers(60_000), '', '/v1/holds'],
  ])(
    'looks at no more %s than a body can have, whoever sends it',
    async (_what, raw, pointer, path = '/v1/session') => {
      const answer = await api.ask('POST', path, { raw, ...(path === '/v1/session' && { key: null }) });
      expect(answer.body).toMatchObject({
        status: 422,
        errors: [{ pointer, detail: expect.stringMatching(/at most/) as string }],
      });
    },
    2_000,
  );

  it('tells of a hundred faults at most', async () => {
    const { body } = await api.ask('POST', '/v1/session', { raw: manyMembers(150), key: null });
    expect(body).toMatchObject({ errors: { length: 100 }, detail: expect.stringContaining('and 151 more') as string });
  });

  it('finds nothing under a name that cannot be', async () => {
    for (const path of ['/v1/units/a%00/b', '/v1/devices/%00', '/v1/holds/1', '/v1/holds/%00']) {
      expect((await api.ask('GET', path)).body).toEqual(problem('not-found', 404));
    }
    expect((await api.ask('GET', '/v1/units/%E0%A4%A')).body).toEqual(problem('bad-request', 400));
    expect((await api.ask('GET', '/v1/units?customer=%00')).body).toMatchObject({ errors: [{ pointer: '/customer' }] });
  });

  it('refuses a query that nobody knows', async () => {
    expect((await api.ask('GET', '/v1/units?colour=green')).body).toMatchObject({ errors: [{ pointer: '/colour' }] });
  });

  it('sends the headers that keep an answer private and readable', async () => {
    const { headers } = await api.ask('GET', '/v1/units');
    expect(headers.get('cache-control')).toBe('no-store');
    expect(headers.get('x-content-type-options')).toBe('nosniff');
    expect(headers.get('x-powered-by')).toBeNull();
    expect(headers.get('x-request-id')).toMatch(/^[\w-]{36}$/);
  });
});
