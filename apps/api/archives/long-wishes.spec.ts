import { MOST_UNITS } from '../../../libs/ledger/archives/archive-bounds.js';
import { problem } from '../spec-support/matchers.js';
import { SpecApi, startApi } from '../spec-support/start-api.js';

/** As long as names may be. */
function name(n: number): string {
  return `S${String(n)}`.padEnd(64, '-');
}

function named<T>(count: number, one: (n: number) => T): T[] {
  return Array.from({ length: count }, (_, n) => one(n));
}

describe('the longest wish for an archive', () => {
  let api: SpecApi;

  beforeEach(async () => {
    api = await startApi();
  });

  afterEach(() => api.close());

  const wishes: readonly [string, (count: number) => object][] = [
    ['serials', (count) => ({ assembly: 'BRD-1', serials: named(count, name) })],
    ['units', (count) => ({ units: named(count, (n) => ({ assembly: name(n), serial: name(n) })) })],
  ];

  it.each(wishes)('is taken where it is made of %s', async (_list, wish) => {
    const answer = await api.ask('POST', '/v1/audits', { body: wish(MOST_UNITS) });
    expect(answer.status).toBe(202);
    expect(answer.body).toMatchObject({ state: 'waiting', wanted: MOST_UNITS });
  });

  it.each(wishes)('is refused beyond that, by the figure of the OpenAPI document: %s', async (list, wish) => {
    const answer = await api.ask('POST', '/v1/audits', { body: wish(MOST_UNITS + 1) });
    const { maxItems } = await bounds(api, list);
    expect(maxItems).toBe(MOST_UNITS);
    expect(answer.body).toEqual(problem('invalid-body', 422));
    expect(answer.body).toMatchObject({
      errors: [{ pointer: `/${list}`, detail: `must have at most ${String(maxItems)} items` }],
    });
  });

  it.each([
    ['no object', 'S1', '/units/1'],
    ['an object without a serial', { assembly: 'BRD-1' }, '/units/1/serial'],
    ['a name that is none', { assembly: 'BRD-1', serial: 'a b' }, '/units/1/serial'],
    ['something beside', { assembly: 'BRD-1', serial: 'S1', 'ref/des': 'U1' }, '/units/1/ref~1des'],
  ])('is refused for %s among its units', async (_what, unit, pointer) => {
    const units = [{ assembly: 'BRD-1', serial: 'S1' }, unit];
    const answer = await api.ask('POST', '/v1/audits', { body: { units } });
    expect(answer.body).toEqual(problem('invalid-body', 422));
    expect(answer.body).toMatchObject({ errors: [{ pointer }] });
  });

  it('makes no room for long lists elsewhere', async () => {
    const units = [{ assembly: 'BRD-1', serial: named(1_001, name) }];
    const deep = await api.ask('POST', '/v1/audits', { body: { units } });
    expect(deep.body).toMatchObject({
      errors: [{ pointer: '/units/0/serial', detail: 'must have at most 1000 items' }],
    });
    const other = await api.ask('POST', '/v1/events/retries', { body: { events: named(1_001, () => ({})) } });
    expect(other.body).toMatchObject({ errors: [{ pointer: '/events', detail: 'must have at most 1000 items' }] });
  });
});

async function bounds(api: SpecApi, list: string): Promise<{ readonly maxItems?: number }> {
  const { body } = await api.ask('GET', '/openapi.json');
  const document = body as { components: { schemas: Record<string, { properties: Record<string, object> }> } };
  return document.components.schemas['ArchiveBody']?.properties[list] ?? {};
}
