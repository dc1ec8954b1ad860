import { BookBench, NO_CHANGES } from './book-bench.contract.js';
import { assemblyDesign, sampleHold, unitState } from './book-samples.contract.js';
import { describeEvents } from './event-status.contract.js';
import { describeHoldLists } from './hold-lists.contract.js';
import { describeNameReads } from './name-reads.contract.js';
import { readPages } from './read-pages.contract.js';
import { Seal } from './seal.js';
import { MakeStores, useBench } from './use-bench.contract.js';

const UNIT = 'BRD-1/0001';

/** What the read side of every book must show. `make` gives an empty one each time. */
export function describeReadStore(name: string, make: MakeStores, seal: Seal): void {
  describe(`read store: ${name}`, () => {
    const bench = useBench(make, seal);
    describeSubjects(bench);
    describeUnits(bench);
    describeEvents(bench);
    describeHoldLists(bench);
    describeNameReads(bench);
  });
}

function describeSubjects(bench: () => BookBench): void {
  it('reads subjects that are known, and no others', async () => {
    const { read } = bench();
    const [entry] = await bench().append(UNIT);
    await bench().append('devices/D1', 2);
    const record = { key: UNIT, state: { kind: 'unit', state: unitState('BRD-1', '0001') }, headSeq: 1 };
    expect(await read.subject(UNIT)).toEqual({ ...record, headHash: entry?.hash });
    expect(await read.subject('devices/D9')).toBeUndefined();
    const several = await read.subjects(['devices/D1', 'devices/D9', UNIT]);
    expect(several.map(({ key, headSeq }) => `${key} ${headSeq}`).sort()).toEqual(['BRD-1/0001 1', 'devices/D1 2']);
  });

  it('pages a ledger in both directions while it grows', async () => {
    const { read } = bench();
    const seqs = async (order: 'asc' | 'desc', afterSeq: number | null, limit = 2) =>
      (await read.ledger(UNIT, { limit, order, afterSeq })).map(({ seq }) => seq);
    const entries = await bench().append(UNIT, 5);
    await bench().append('devices/D1', 9);
    expect(await read.ledger(UNIT, { limit: 500, order: 'asc', afterSeq: null })).toEqual(entries);
    expect(await seqs('asc', null)).toEqual([1, 2]);
    expect(await seqs('asc', 2)).toEqual([3, 4]);
    expect(await seqs('desc', null)).toEqual([5, 4]);
    await bench().append(UNIT, 2);
    expect(await seqs('asc', 4, 500)).toEqual([5, 6, 7]);
    expect(await seqs('asc', 7)).toEqual([]);
    expect(await seqs('desc', 4)).toEqual([3, 2]);
    expect(await seqs('desc', 1)).toEqual([]);
    expect(await seqs('desc', null, 1)).toEqual([7]);
  });

  it('reads a ledger as it is stored, a page at a time', async () => {
    const { read } = bench();
    const entries = await bench().append(UNIT, 5);
    await bench().append('devices/D1', 9);
    const first = await read.ledgerBytes(UNIT, { limit: 3, afterSeq: null });
    const rest = await read.ledgerBytes(UNIT, { limit: 3, afterSeq: 3 });
    expect([first.length, rest.length]).toEqual([3, 2]);
    const parsed = [...first, ...rest].map(({ bytes, hash }) => ({ ...(JSON.parse(bytes) as object), hash }));
    expect(parsed).toEqual(entries);
    expect(await read.ledgerBytes(UNIT, { limit: 3, afterSeq: 5 })).toEqual([]);
    expect(await read.ledgerBytes('devices/D9', { limit: 3, afterSeq: null })).toEqual([]);
  });

  it('reads the entries of one type', async () => {
    const type = 'heatbook.site.dressed.v1';
    await bench().append(UNIT, 2);
    await bench().append(UNIT, 3, { type });
    await bench().append(UNIT, 1);
    const page = { limit: 2, order: 'desc', afterSeq: null, type } as const;
    expect((await bench().read.ledger(UNIT, page)).map(({ seq }) => seq)).toEqual([5, 4]);
    expect((await bench().read.ledger(UNIT, { ...page, afterSeq: 4 })).map(({ seq }) => seq)).toEqual([3]);
  });
}

function describeUnits(bench: () => BookBench): void {
  it('lists units with their customer, state, open holds and newest entry', async () => {
    const { read, setup } = bench();
    await setup.revise('assembly', 'BRD-1', assemblyDesign('Eastfield'), 'admin');
    await setup.revise('assembly', 'BRD-1', assemblyDesign('Northlight'), 'admin');
    await bench().append(UNIT, 1, { recordedAt: '2026-03-02T08:30:01.000Z' });
    await bench().append(UNIT, 1, { recordedAt: '2026-03-02T11:00:00.250Z' });
    await bench().append('devices/D1');
    await bench().book.exclusively((tx) => tx.load(['BRD-1/only-asked-for']));
    const unit = { assembly: 'BRD-1', serial: '0001' };
    const device = { kind: 'device', device: 'D1' } as const;
    await bench().write({
      holds: [
        sampleHold('h1'),
        sampleHold('h2', { subject: { kind: 'unit', ...unit }, state: 'released' }),
        sampleHold('h3', { subject: device, unit }),
        sampleHold('h4', { subject: device, unit: null }),
      ],
    });
    expect(await read.units({}, { limit: 500, cursor: null })).toEqual({
      items: [
        { ...unit, customer: 'Northlight', state: 'in-house', openHolds: 2, changedAt: '2026-03-02T11:00:00.250Z' },
      ],
      next: null,
    });
  });

  it('finds what was done to sites by when it was written, and nothing else', async () => {
    const at = (minute: number): string => `2026-03-02T08:0${String(minute)}:00.000Z`;
    const dressed = { type: 'heatbook.site.dressed.v1' };
    await bench().append(UNIT, 1, { ...dressed, recordedAt: at(1) });
    await bench().append(UNIT, 1, { type: 'heatbook.unit.baked.v1', recordedAt: at(2) });
    await bench().append('BRD-1/0002', 1, { type: 'heatbook.inspection.recorded.v1', recordedAt: at(2) });
    await bench().append('devices/D1', 1, { type: 'heatbook.inspection.recorded.v1', recordedAt: at(2) });
    await bench().append(UNIT, 1, { ...dressed, recordedAt: at(3) });
    const found = async (from: number, to: number, limit = 10) =>
      (await bench().read.siteWork({ from: at(from), to: at(to), limit })).map(
        ({ subject, seq }) => `${subject} ${String(seq)}`,
      );
    expect(await found(0, 9)).toEqual([`${UNIT} 1`, 'BRD-1/0002 1', `${UNIT} 3`]);
    expect(await found(1, 3)).toEqual([`${UNIT} 1`, 'BRD-1/0002 1']);
    expect(await found(0, 9, 1)).toEqual([`${UNIT} 1`]);

    const event = { source: '/stations/bench-1', id: 'struck' };
    await bench().append(UNIT, 1, { ...dressed, event, recordedAt: at(4) });
    expect(await found(4, 9)).toEqual([`${UNIT} 4`]);
    await bench().append(UNIT, 1, { type: 'heatbook.entry.annulled.v1', event, recordedAt: at(5) });
    expect(await found(0, 9)).toEqual([`${UNIT} 1`, 'BRD-1/0002 1', `${UNIT} 3`]);
  });

  it('filters units by each field and by several', async () => {
    const { read, setup } = bench();
    await setup.revise('assembly', 'BRD-1', assemblyDesign('Northlight'), 'admin');
    await setup.revise('assembly', 'BRD-2', assemblyDesign('Eastfield'), 'admin');
    for (const key of ['BRD-1/0001', 'BRD-1/0002', 'BRD-2/0001']) await bench().append(key);
    await bench().book.exclusively(async (tx) => {
      const { subject, entries } = bench().grown(await bench().loadOne(tx, 'BRD-1/0002'));
      const state = { kind: 'unit', state: unitState('BRD-1', '0002', 'shipped') } as const;
      await tx.write({ ...NO_CHANGES, subjects: [{ ...subject, state }], entries });
    });
    const found = async (filter: Parameters<typeof read.units>[0]) =>
      (await read.units(filter, { limit: 10, cursor: null })).items
        .map((row) => `${row.assembly}/${row.serial}`)
        .sort();
    expect(await found({})).toEqual(['BRD-1/0001', 'BRD-1/0002', 'BRD-2/0001']);
    expect(await found({ customer: 'Eastfield' })).toEqual(['BRD-2/0001']);
    expect(await found({ assembly: 'BRD-1' })).toEqual(['BRD-1/0001', 'BRD-1/0002']);
    expect(await found({ serial: '0001' })).toEqual(['BRD-1/0001', 'BRD-2/0001']);
    expect(await found({ state: 'shipped' })).toEqual(['BRD-1/0002']);
    expect(await found({ customer: 'Northlight', state: 'in-house', serial: '0001' })).toEqual(['BRD-1/0001']);
    expect(await found({ customer: 'Northlight', assembly: 'BRD-2' })).toEqual([]);
  });

  it('pages units without skip or repeat while units are added and changed', async () => {
    const keys = ['BRD-1/b', 'BRD-1/d', 'BRD-2/a', 'BRD-2/B', 'BRD-3/a', 'BRD-1/f', 'BRD-10/a'];
    for (const key of keys) await bench().append(key);
    const rows = await readPages(
      (page) => bench().read.units({}, page),
      async (pages) => {
        if (pages > 3) return;
        await bench().append(`BRD-0/${pages}`);
        await bench().append(`BRD-1/c${pages}`);
        await bench().append(`BRD-9/${pages}`);
        for (const key of keys) await bench().append(key, 1, { recordedAt: `2026-03-0${pages + 2}T08:30:01.000Z` });
      },
    );
    const found = rows.map(({ assembly, serial }) => `${assembly}/${serial}`);
    expect(new Set(found).size).toBe(found.length);
    expect(keys.filter((key) => !found.includes(key))).toEqual([]);
  });
}
