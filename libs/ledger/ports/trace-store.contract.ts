import { Seal } from './seal.js';
import { StoredTrace } from './trace-store.js';
import { MakeStores, useBench } from './use-bench.contract.js';

const CSV = 'time (s),Joint (°C)\r\n0,23.1\r\n1,24.0\r\n';

/** What every keeper of trace files must do. `make` gives a book without traces each time. */
export function describeTraceStore(name: string, make: MakeStores, seal: Seal): void {
  describe(`trace store: ${name}`, () => {
    const bench = useBench(make, seal);

    const trace = (over: Partial<StoredTrace> = {}): StoredTrace => {
      const csv = over.csv ?? CSV;
      return {
        name: 'run-1',
        contentHash: seal.sha256Hex(csv),
        csv,
        encoding: 'utf8',
        voltage: null,
        by: 'bench-1',
        at: '2026-03-02T08:30:01.000Z',
        ...over,
      };
    };

    it('keeps a trace as it came, and tells it from others by its name alone', async () => {
      const { traces } = bench();
      const first = trace({ csv: `\uFEFF${CSV}` });
      const second = trace({ name: 'RUN-1', voltage: { type: 'T', coldJunctionC: 24.25 } });
      expect([await traces.put(first), await traces.put(second)]).toEqual(['created', 'created']);
      expect(await traces.get('run-1')).toEqual(first);
      expect(await traces.get('RUN-1')).toEqual(second);
      expect(await traces.get('run-2')).toBeUndefined();
    });

    it.each([
      ['utf8', 'Joint (°C);\u{1F525} ü'],
      ['utf16le', '\uFEFFJoint (°C)\t\u{1F525} ü'],
      ['latin1', 'Joint (°C);\u0080\u00FF'],
    ] as const)('keeps text that came in %s', async (encoding, csv) => {
      const { traces } = bench();
      await traces.put(trace({ csv, encoding }));
      expect(await traces.get('run-1')).toEqual(trace({ csv, encoding }));
    });

    it('knows the same bytes again, whoever sends them, and keeps the first', async () => {
      const { traces } = bench();
      const first = trace({ voltage: { type: 'K', coldJunctionC: 25 } });
      await traces.put(first);
      expect(await traces.put({ ...first, by: 'bench-2', at: '2026-03-02T09:00:00.000Z' })).toBe('same');
      expect(await traces.get('run-1')).toEqual(first);
    });

    const typeK = { type: 'K', coldJunctionC: 25 } as const;
    it.each<[string, Partial<StoredTrace>, Partial<StoredTrace>]>([
      ['other bytes', {}, { csv: `${CSV}2,25.0\r\n` }],
      ['the same bytes read as mV', {}, { voltage: typeK }],
      ['the same bytes read as C', { voltage: typeK }, {}],
      ['another thermocouple', { voltage: typeK }, { voltage: { type: 'J', coldJunctionC: 25 } }],
      ['another cold junction', { voltage: typeK }, { voltage: { type: 'K', coldJunctionC: 25.1 } }],
    ])('refuses %s under a name that is taken, and keeps the first', async (_what, first, other) => {
      const { traces } = bench();
      await traces.put(trace(first));
      expect(await traces.put(trace(other))).toBe('different');
      expect(await traces.get('run-1')).toEqual(trace(first));
    });

    it('lets one of many win where they come at once', async () => {
      const { traces } = bench();
      const wishes = Array.from({ length: 8 }, (_, index) => trace({ csv: `${CSV}${index % 2},25.0\r\n` }));
      const outcomes = await Promise.all(wishes.map((wish) => traces.put(wish)));
      expect(outcomes.filter((outcome) => outcome === 'created')).toHaveLength(1);
      const winner = await traces.get('run-1');
      outcomes.forEach((outcome, index) => {
        expect(outcome === 'different').toBe(wishes[index]?.contentHash !== winner?.contentHash);
      });
    });

    it('gives many at once: those there are, each once, in order of name', async () => {
      const { traces } = bench();
      for (const one of ['b', 'a', 'C', 'd']) await traces.put(trace({ name: one }));
      const found = await traces.many(['d', 'b', 'none', 'C', 'b', 'a']);
      expect(found).toEqual(['C', 'a', 'b', 'd'].map((one) => trace({ name: one })));
      expect(await traces.many([])).toEqual([]);
      expect(await traces.many(['none'])).toEqual([]);
    });

    it('describes many at once, by the length of the files as they were uploaded', async () => {
      const { traces } = bench();
      await traces.put(trace({ name: 'b', csv: '\uFEFF°C', encoding: 'utf16le' }));
      await traces.put(trace({ name: 'a', csv: '°C', by: 'bench-2' }));
      const { contentHash, by, at } = trace({ csv: '°C', by: 'bench-2' });
      expect(await traces.described(['b', 'none', 'a', 'a'])).toEqual([
        { name: 'a', contentHash, by, at, bytes: 3 },
        { name: 'b', contentHash: seal.sha256Hex('\uFEFF°C'), by: 'bench-1', at, bytes: 6 },
      ]);
      expect(await traces.described([])).toEqual([]);
    });
  });
}
