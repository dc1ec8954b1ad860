import { BookBench, NO_CHANGES } from './book-bench.contract.js';
import { assemblyDesign, deviceState } from './book-samples.contract.js';
import { NameReads, NamedDevice, NamedUnit } from './name-reads.js';

/** What finding by the beginning of a name must do, as part of every read side. */
export function describeNameReads(bench: () => BookBench): void {
  const serials = (units: readonly NamedUnit[]): string[] =>
    units.map(({ assembly, serial }) => `${assembly}/${serial}`);
  const devices = (found: readonly NamedDevice[]): string[] => found.map(({ device }) => device);

  describe('by the beginning of a name', () => {
    beforeEach(async () => {
      await bench().setup.revise('assembly', 'BRD-1', assemblyDesign('Northlight'), 'admin');
      await bench().setup.revise('assembly', 'BRD-2', assemblyDesign('Eastfield'), 'admin');
      for (const key of ['BRD-1/010', 'BRD-2/01', 'BRD-1/01', 'BRD-1/0z', 'BRD-1/1', 'BRD-10/01'])
        await bench().append(key);
      for (const device of ['BRD-1:01:U7', 'K-1', 'K-12', 'K-2']) await bench().append(`devices/${device}`);
      await bench().append('stations/K-1');
      await bench().book.exclusively((tx) => tx.load(['BRD-1/01-only-asked-for', 'devices/K-1-only-asked-for']));
    });

    it('finds units by serial, the one that is it first', async () => {
      const { read } = bench();
      expect(serials(await read.unitsNamed({ serial: '01' }, 10))).toEqual([
        'BRD-1/01',
        'BRD-10/01',
        'BRD-2/01',
        'BRD-1/010',
      ]);
      expect(await read.unitsNamed({ serial: '010' }, 10)).toEqual([
        { assembly: 'BRD-1', serial: '010', customer: 'Northlight', state: 'in-house' },
      ]);
      expect(await read.unitsNamed({ serial: '01' }, 2)).toHaveLength(2);
      expect(serials(await read.unitsNamed({ serial: '0Z' }, 10))).toEqual([]);
    });

    it('finds units of one assembly, and of none that begins like it', async () => {
      const { read } = bench();
      expect(serials(await read.unitsNamed({ assembly: 'BRD-1', serial: '0' }, 10))).toEqual([
        'BRD-1/01',
        'BRD-1/010',
        'BRD-1/0z',
      ]);
      expect(serials(await read.unitsNamed({ assembly: 'BRD-1', serial: '' }, 10))).toHaveLength(4);
      expect(serials(await read.unitsNamed({ assembly: 'BRD', serial: '0' }, 10))).toEqual([]);
      expect(await read.unitsNamed({ assembly: 'BRD-10', serial: '01' }, 10)).toMatchObject([{ customer: '' }]);
    });

    it('finds devices with where they are, and assemblies with whose they are', async () => {
      const { read } = bench();
      await mount(bench(), 'K-12');
      expect(await read.devicesNamed('K-1', 10)).toEqual([
        { device: 'K-1', state: 'loose', unit: null },
        { device: 'K-12', state: 'mounted', unit: { assembly: 'BRD-1', serial: '01' } },
      ]);
      expect(devices(await read.devicesNamed('BRD-1:', 10))).toEqual(['BRD-1:01:U7']);
      expect(devices(await read.devicesNamed('K', 1))).toEqual(['K-1']);
      await bench().setup.revise('assembly', 'BRD-1', assemblyDesign('Westwood'), 'admin');
      expect(await read.assembliesNamed('BRD', 10)).toEqual([
        { assembly: 'BRD-1', customer: 'Westwood' },
        { assembly: 'BRD-2', customer: 'Eastfield' },
      ]);
      expect(await read.assembliesNamed('BRD-2', 10)).toHaveLength(1);
    });

    it('finds for a customer what is theirs', async () => {
      await mount(bench(), 'K-12');
      const found = async (reads: NameReads): Promise<unknown> => [
        serials(await reads.unitsNamed({ serial: '' }, 10)),
        serials(await reads.unitsNamed({ assembly: 'BRD-2', serial: '' }, 10)),
        devices(await reads.devicesNamed('', 10)),
        (await reads.assembliesNamed('', 10)).map(({ assembly }) => assembly),
      ];
      expect(await found(bench().customers.of('Northlight'))).toEqual([
        ['BRD-1/01', 'BRD-1/010', 'BRD-1/0z', 'BRD-1/1'],
        [],
        ['K-12'],
        ['BRD-1'],
      ]);
      expect(await found(bench().customers.of('Nobody'))).toEqual([[], [], [], []]);
    });
  });
}

/** The device as it sits on the unit BRD-1/01. */
async function mount(bench: BookBench, device: string): Promise<void> {
  await bench.book.exclusively(async (tx) => {
    const { subject, entries } = bench.grown(await bench.loadOne(tx, `devices/${device}`));
    const place = { assembly: 'BRD-1', serial: '01', refdes: 'U7' };
    const state = { kind: 'device', state: { ...deviceState(device), status: 'mounted', place } } as const;
    await tx.write({ ...NO_CHANGES, subjects: [{ ...subject, state }], entries });
  });
}
