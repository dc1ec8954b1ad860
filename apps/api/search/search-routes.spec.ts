import { addPerson, Browser } from '../spec-support/browser.js';
import { problem } from '../spec-support/matchers.js';
import { enterSampleSetup, sampleAssembly, sampleEvent } from '../spec-support/sample-setup.js';
import { SpecApi, startApi } from '../spec-support/start-api.js';

interface Answer {
  readonly items: readonly { readonly kind: string; readonly name: string }[];
  readonly truncated: boolean;
}

describe('search', () => {
  let api: SpecApi;
  let cora: Browser;
  let hold: string;

  beforeAll(async () => {
    api = await startApi();
    await enterSampleSetup(api);
    await api.ask('PUT', '/v1/assemblies/S1-BOARD', { body: { ...sampleAssembly(), customer: 'Sollund' } });
    await api.ask('PUT', '/v1/operators/S1-smith', { body: { qualifications: [] } });
    const profile = { purpose: 'removal', alloy: 'SAC305', neighbourPeaks: [] };
    for (const revision of ['A', 'B']) {
      await api.ask('PUT', `/v1/profiles/HG-UP/revisions/${revision}`, { body: profile });
    }
    const serials = ['BRD-1/S1', 'BRD-1/S10', 'S1-BOARD/S1', ...Array.from({ length: 21 }, (_, n) => `BRD-1/M-${n}`)];
    await api.ask('POST', '/v1/events', {
      body: serials.map((subject) => sampleEvent('heatbook.unit.received.v1', {}, { subject })),
    });
    await api.fold();
    const raised = await api.ask('POST', '/v1/holds', { body: { assembly: 'BRD-1', serial: 'S1', note: 'Scratch' } });
    hold = (raised.body as { id: string }).id;
    await addPerson(api, 'cora', { roles: ['customer'], customer: 'Nordlicht Instruments' });
    cora = new Browser(api);
    await cora.signIn('cora', 'the long word of cora');
  });

  afterAll(() => api.close());

  const asHouse = async (q: string, more = ''): Promise<Answer> =>
    (await api.ask('GET', `/v1/search?q=${encodeURIComponent(q)}${more}`)).body as Answer;
  const asCustomer = async (q: string): Promise<Answer> =>
    (await cora.ask('GET', `/v1/search?q=${encodeURIComponent(q)}`)).body as Answer;
  const names = ({ items }: Answer): string[] => items.map(({ kind, name }) => `${kind} ${name}`);

  it('puts what is named exactly so before what begins so, in order of kind', async () => {
    expect(names(await asHouse(' S1 '))).toEqual([
      'unit BRD-1/S1',
      'unit S1-BOARD/S1',
      'unit BRD-1/S10',
      'device S1-BOARD:S1:U1',
      'device S1-BOARD:S1:U2',
      'assembly S1-BOARD',
      'operator S1-smith',
    ]);
    expect(names(await asHouse('HG-'))).toEqual(['station HG-1', 'profile HG-UP']);
    expect(names(await asHouse('BRD-1:S1'))).toEqual([
      'device BRD-1:S10:U1',
      'device BRD-1:S10:U2',
      'device BRD-1:S1:U1',
      'device BRD-1:S1:U2',
    ]);
  });

  it.each(['BRD-1/S10', 'BRD-1 S10', 'BRD-1 / S10', '  BRD-1\tS10 ', 'brd-1/s10'])(
    'reads %j as one unit',
    async (q) => {
      expect(await asHouse(q)).toEqual({
        items: [
          {
            ...{ kind: 'unit', name: 'BRD-1/S10', assembly: 'BRD-1', serial: 'S10' },
            ...{ customer: 'Nordlicht Instruments', state: 'in-house' },
          },
        ],
        truncated: false,
      });
    },
  );

  it('reads what subjects of events are called, and ids of holds', async () => {
    expect(names(await asHouse('devices/BRD-1:S1:U2'))).toEqual(['device BRD-1:S1:U2']);
    expect(names(await asHouse('stations/HG'))).toEqual(['station HG-1']);
    expect(await asHouse(hold.toUpperCase())).toMatchObject({
      items: [{ kind: 'hold', name: hold, detail: 'by-hand', assembly: 'BRD-1', serial: 'S1', state: 'open' }],
    });
  });

  it.each(['S1%', "S1'--", 'S1\u0007', 'a/b/c', '/S1', 'é', '*'])('finds nothing named %j, and says so', async (q) => {
    expect(await asHouse(q)).toEqual({ items: [], truncated: false });
  });

  it('says that there is more, and leaves room for every kind', async () => {
    const { items, truncated } = await asHouse('M-');
    expect([items.length, truncated]).toEqual([20, true]);
    expect(await asHouse('M-', '&limit=2')).toMatchObject({ items: [{}, {}], truncated: true });
    expect(names(await asHouse('S1', '&limit=5'))).toEqual([
      'unit BRD-1/S1',
      'unit S1-BOARD/S1',
      'unit BRD-1/S10',
      'device S1-BOARD:S1:U1',
      'assembly S1-BOARD',
    ]);
  });

  it('shows a customer what is theirs', async () => {
    expect(names(await asCustomer('S1'))).toEqual(['unit BRD-1/S1', 'unit BRD-1/S10']);
    expect(names(await asCustomer('S1-BOARD/S1'))).toEqual([]);
    expect(names(await asCustomer('HG-1'))).toEqual([]);
    expect((await asCustomer('BRD-1')).items[0]).toEqual({
      ...{ kind: 'assembly', name: 'BRD-1', assembly: 'BRD-1', customer: 'Nordlicht Instruments' },
    });
    expect(names(await asCustomer(hold))).toEqual([`hold ${hold}`]);
  });

  it.each(['', '?q=', '?q=%20', `?q=${'x'.repeat(141)}`, '?q=a&limit=21', '?q=a&q=b'])('refuses %j', async (query) => {
    expect((await api.ask('GET', `/v1/search${query}`)).body).toEqual(problem('invalid-query', 422));
  });
});
