import { problem } from '../spec-support/matchers.js';
import { enterSampleSetup, removalEvent, sampleEvent } from '../spec-support/sample-setup.js';
import { SpecApi, startApi } from '../spec-support/start-api.js';

interface Listed {
  readonly items: readonly { readonly serial: string; readonly events: number }[];
  readonly nextCursor: string | null;
}

const YEAR = 'from=2030-01-01T00:00:00Z&to=2031-01-01T00:00:00Z';

describe('units that a station touched', () => {
  let api: SpecApi;
  const list = async (query = YEAR, station = 'HG-1'): Promise<Listed> =>
    (await api.ask('GET', `/v1/stations/${station}/units?${query}`)).body as Listed;
  const serials = ({ items }: Listed): string[] => items.map(({ serial, events }) => `${serial} ${String(events)}`);

  beforeAll(async () => {
    api = await startApi();
    await enterSampleSetup(api);
    const at = (serial: string, time: string) => ({ subject: `BRD-1/${serial}`, time });
    const received = (serial: string, time: string, more: object = {}) =>
      sampleEvent('heatbook.unit.received.v1', {}, { ...at(serial, time), ...more });
    await api.ask('POST', '/v1/events', {
      body: [
        received('A', '2030-03-01T08:00:00Z'),
        removalEvent(at('A', '2030-03-04T08:00:00+01:00')),
        received('B', '2030-03-02T08:00:00Z'),
        received('C', '2030-03-03T08:00:00Z'),
        received('D', '2030-03-03T08:00:00Z', { source: '/stations/HG-10' }),
        sampleEvent('heatbook.device.received.v1', { part: 'LOGIC-1' }, { subject: 'devices/N-1' }),
      ],
    });
    await api.fold();
  });

  afterAll(() => api.close());

  it('come with when and how often, the last one first, and nothing of other stations or loose devices', async () => {
    const { items } = await list();
    expect(items[0]).toEqual({
      ...{ assembly: 'BRD-1', serial: 'A', customer: 'Nordlicht Instruments', state: 'in-house', events: 2 },
      ...{ firstAt: '2030-03-01T08:00:00.000000Z', lastAt: '2030-03-04T07:00:00.000000Z' },
    });
    expect(serials(await list())).toEqual(['A 2', 'C 1', 'B 1']);
  });

  it('are those of the interval alone: from its beginning, not to its end', async () => {
    expect(serials(await list('from=2030-03-01T08:00:00Z&to=2030-03-03T08:00:00Z'))).toEqual(['B 1', 'A 1']);
    expect(serials(await list('to=2030-03-08T08:00:00.000001Z'))).toEqual(['A 2', 'C 1', 'B 1']);
    expect(serials(await list('to=2030-03-08T08:00:01Z'))).toEqual(['A 1', 'C 1', 'B 1']);
    expect(serials(await list(''))).toEqual([]);
  });

  it('come page by page, and one that is touched again meanwhile is not shown twice', async () => {
    const first = await list(`${YEAR}&limit=1`);
    expect(serials(first)).toEqual(['A 2']);
    const later = { subject: 'BRD-1/A', time: '2030-03-05T08:00:00Z' };
    await api.ask('POST', '/v1/events', { body: [removalEvent({ ...later, id: 'again' })] });
    await api.fold();
    const rest = await list(`${YEAR}&limit=5&cursor=${first.nextCursor ?? ''}`);
    expect([serials(rest), rest.nextCursor]).toEqual([['C 1', 'B 1'], null]);
  });

  it('are refused for an interval upside down, a foreign cursor and a station that nobody knows', async () => {
    for (const query of ['from=2030-03-01T08:00:00Z&to=2030-03-01T08:00:00Z', 'from=yesterday', 'cursor=abc']) {
      expect([query, (await api.ask('GET', `/v1/stations/HG-1/units?${query}`)).body]).toEqual([
        query,
        problem('invalid-query', 422),
      ]);
    }
    expect((await api.ask('GET', '/v1/stations/NONE/units')).body).toEqual(problem('not-found', 404));
    expect(serials(await list(YEAR, 'HG-10'))).toEqual(['D 1']);
  });
});
