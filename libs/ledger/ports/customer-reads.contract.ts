import { BookBench, NO_CHANGES, number, STATION } from './book-bench.contract.js';
import { assemblyDesign, deviceState, labelOf, sampleHold, UNKNOWN_ASSEMBLY } from './book-samples.contract.js';
import { ReadStore } from './read-store.js';
import { Seal } from './seal.js';
import { MakeStores, useBench } from './use-bench.contract.js';

const PAGE = { limit: 10, cursor: null };
const OWN = 'BRD-1/0001';
const FOREIGN = 'BRD-2/0001';
const ALL_LEDGERS = [OWN, FOREIGN, 'devices/D1', 'devices/D2', 'devices/LOOSE', 'stations/bench-1'];

/** What customers may see of every book. `make` gives an empty one each time. */
export function describeCustomerReads(name: string, make: MakeStores, seal: Seal): void {
  describe(`customer reads: ${name}`, () => {
    const bench = useBench(make, seal);

    beforeEach(() => fill(bench()));

    it('show a customer their units, the ledgers of these and the holds that came to light on them', async () => {
      const reads = bench().customers.of('Northlight');
      const { read } = bench();
      const units = (await read.units({ customer: 'Northlight' }, PAGE)).items;
      expect(units.map(({ serial }) => serial)).toEqual(['0001']);
      expect(await reads.units({}, PAGE)).toEqual({ items: units, next: null });
      expect(await reads.subject(OWN)).toEqual(await read.subject(OWN));
      const ledger = { limit: 10, order: 'asc', afterSeq: null } as const;
      expect(await reads.ledger(OWN, ledger)).toEqual(await read.ledger(OWN, ledger));
      expect((await reads.holds({}, PAGE)).items.map(labelOf)).toEqual(['unit', 'aboard']);
      expect((await reads.holdSummary({}, '2026-03-02T09:00:00Z')).byReason).toEqual({ 'site-reworks': 2 });
      expect((await reads.holdsOn(ALL_LEDGERS)).map(labelOf)).toEqual(['unit', 'aboard']);
      const [own] = (await reads.holds({}, PAGE)).items;
      expect(await reads.holdById(own?.id ?? '')).toEqual(own);
      expect(await reads.eventStatus({ source: STATION, id: 'own' })).toMatchObject({ subject: OWN, state: 'pending' });
    });

    it('show of a device aboard what it is now, and of no device what was entered in its own ledger', async () => {
      const reads = bench().customers.of('Northlight');
      expect((await reads.subject('devices/D1'))?.state).toMatchObject({ kind: 'device' });
      const ledger = { limit: 10, order: 'asc', afterSeq: null } as const;
      expect(await reads.ledger('devices/D1', ledger)).toEqual([]);
      expect(await reads.ledgerBytes('devices/D1', ledger)).toEqual([]);
      expect(await reads.subjects(['devices/D2', 'devices/LOOSE'])).toEqual([]);
    });

    it('show nothing of anybody else, whatever is asked for', async () => {
      const reads = bench().customers.of('Northlight');
      const { read } = bench();
      const foreign = (await read.holds({ assembly: 'BRD-2' }, PAGE)).items;
      expect(foreign).toHaveLength(1);
      for (const { id } of foreign) expect(await reads.holdById(id)).toBeUndefined();
      expect(await reads.subject(FOREIGN)).toBeUndefined();
      expect(await reads.ledger(FOREIGN, { limit: 10, order: 'asc', afterSeq: null })).toEqual([]);
      expect(await reads.ledgerBytes(FOREIGN, { limit: 10, afterSeq: null })).toEqual([]);
      expect(await reads.units({ customer: 'Eastfield' }, PAGE)).toEqual({ items: [], next: null });
      expect((await reads.holds({ customer: 'Eastfield' }, PAGE)).items).toEqual([]);
      expect(await reads.eventStatus({ source: STATION, id: 'foreign' })).toBeUndefined();
      expect(await reads.holdsByEvent({ source: STATION, id: 'foreign' })).toEqual([]);
      expect((await reads.parked(PAGE)).items).toEqual([]);
      expect((await reads.backlog()).pending).toBe(1);
    });

    it('show nothing at all to a customer of no assembly, to one without a name and to one called like the house', async () => {
      for (const customer of ['Westwood', '', '*', 'northlight', 'North%']) {
        expect([customer, await everything(bench().customers.of(customer))]).toEqual([customer, []]);
      }
    });

    it('follow a unit to the customer whom the newest revision of its assembly names, and a device to its board', async () => {
      await bench().setup.revise('assembly', 'BRD-1', assemblyDesign('Eastfield'), 'admin');
      expect(await everything(bench().customers.of('Northlight'))).toEqual([]);
      expect(await keysOf(bench().customers.of('Eastfield'))).toEqual([OWN, FOREIGN, 'devices/D1', 'devices/D2']);
      await bench().setup.revise('assembly', 'BRD-1', assemblyDesign('Northlight'), 'admin');
      await mount(bench(), 'D1', 'BRD-2');
      expect(await keysOf(bench().customers.of('Northlight'))).toEqual([OWN]);
    });
  });
}

async function fill(bench: BookBench): Promise<void> {
  await bench.setup.revise('assembly', 'BRD-1', assemblyDesign('Northlight'), 'admin');
  await bench.setup.revise('assembly', 'BRD-2', assemblyDesign('Eastfield'), 'admin');
  for (const key of ALL_LEDGERS) await bench.append(key, 2);
  await mount(bench, 'D1', 'BRD-1');
  await mount(bench, 'D2', 'BRD-2');
  const unit = { assembly: 'BRD-1', serial: '0001' };
  const device = { kind: 'device', device: 'D1' } as const;
  const cause = { at: '2026-03-02T08:30:00.000000000Z', source: STATION, id: 'foreign' };
  await bench.write({
    holds: [
      sampleHold('unit'),
      sampleHold('aboard', { subject: device, unit, raisedAt: '2026-03-02T08:31:00.000Z' }),
      sampleHold('loose', { subject: device, unit: null }),
      sampleHold('station', { subject: { kind: 'station', station: 'bench-1' }, unit: null }),
      sampleHold('foreign', {
        subject: { kind: 'unit', assembly: 'BRD-2', serial: '0001' },
        unit: { assembly: 'BRD-2', serial: '0001' },
        customer: 'Eastfield',
        causes: [cause],
      }),
    ],
  });
  await bench.book.accept([bench.incoming('parked', FOREIGN)]);
  await bench.settle((events) => ({
    parked: events.map((event) => ({ number: number(event), reason: UNKNOWN_ASSEMBLY })),
  }));
  await bench.book.accept([bench.incoming('own', OWN), bench.incoming('foreign', FOREIGN)]);
}

/** The device as it sits on site U7 of the first board of an assembly. */
async function mount(bench: BookBench, device: string, assembly: string): Promise<void> {
  await bench.book.exclusively(async (tx) => {
    const { subject, entries } = bench.grown(await bench.loadOne(tx, `devices/${device}`));
    const place = { assembly, serial: '0001', refdes: 'U7' };
    const state = { kind: 'device', state: { ...deviceState(device), status: 'mounted', place } } as const;
    await tx.write({ ...NO_CHANGES, subjects: [{ ...subject, state }], entries });
  });
}

async function keysOf(reads: ReadStore): Promise<string[]> {
  return (await reads.subjects(ALL_LEDGERS)).map(({ key }) => key).sort();
}

/** Names of whatever can be found. */
async function everything(reads: ReadStore): Promise<string[]> {
  const units = (await reads.units({}, PAGE)).items.map(({ serial }) => serial);
  const holds = (await reads.holds({}, PAGE)).items.map(labelOf);
  const read = { limit: 10, order: 'asc', afterSeq: null } as const;
  const entries = (await Promise.all(ALL_LEDGERS.map((key) => reads.ledger(key, read)))).flat();
  return [...units, ...holds, ...(await keysOf(reads)), ...entries.map(({ hash }) => hash)];
}
