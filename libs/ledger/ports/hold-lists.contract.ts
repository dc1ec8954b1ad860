import { Disposition, HoldRecord } from '../holds/hold-record.js';
import { BookBench } from './book-bench.contract.js';
import { holdId, labelOf, sampleHold } from './book-samples.contract.js';
import { readPages } from './read-pages.contract.js';
import { HoldFilter, PageRequest } from './read-store.js';

const OTHER_UNIT = { assembly: 'BRD-2', serial: '0002' };

const CONTAINMENT = 'c0000000-0000-0000-0000-000000000001';

const DISPOSITION: Disposition = {
  id: 'a-decision',
  decision: 'rework',
  note: 'Once more.',
  signature: {
    by: 'ann',
    named: 'a1',
    at: '2026-03-08T10:00:00.000Z',
    meaning: 'decided',
    contentHash: 'cd',
  },
  approved: false,
};

/** Five holds that differ in every field that can be filtered by, oldest first; their ids are in another order. */
const HOLDS: readonly HoldRecord[] = [
  sampleHold('h9', { raisedAt: '2026-03-01T00:00:00.000Z' }),
  sampleHold('h2', {
    raisedAt: '2026-03-02T00:00:00.000Z',
    reason: 'device-excursions',
    subject: { kind: 'device', device: 'D1' },
    station: 'bench-2',
    operator: 'op-4',
    assignee: 'ann',
    dueAt: '2026-03-09T00:00:00.000Z',
  }),
  sampleHold('h3', {
    raisedAt: '2026-03-08T00:00:00.000Z',
    subject: { kind: 'unit', ...OTHER_UNIT },
    unit: OTHER_UNIT,
    customer: 'Eastfield',
    state: 'released',
  }),
  sampleHold('h4', {
    raisedAt: '2026-03-08T00:00:00.001Z',
    reason: 'by-hand',
    subject: { kind: 'device', device: 'D2' },
    unit: null,
    customer: null,
    station: null,
    operator: null,
    raisedBy: 'admin',
    causes: [],
    assignee: 'ann',
    dueAt: '2026-03-12T00:00:00.000Z',
    dispositions: [DISPOSITION],
    containment: CONTAINMENT,
  }),
  sampleHold('h5', {
    raisedAt: '2026-03-09T12:00:00.000Z',
    reason: 'damage-found',
    subject: { kind: 'unit', ...OTHER_UNIT },
    unit: OTHER_UNIT,
    customer: 'Eastfield',
    station: 'bench-2',
  }),
];

/** Holds listed, filtered, looked up and counted. */
export function describeHoldLists(bench: () => BookBench): void {
  describeFilters(bench);
  describePaging(bench);
  describeLookups(bench);
  describeSummary(bench);
}

function describeFilters(bench: () => BookBench): void {
  const filters: [HoldFilter, string[]][] = [
    [{}, ['h9', 'h2', 'h3', 'h4', 'h5']],
    [{ state: 'released' }, ['h3']],
    [{ state: 'withdrawn' }, []],
    [{ reason: 'device-excursions' }, ['h2']],
    [{ customer: 'Eastfield' }, ['h3', 'h5']],
    [{ assembly: 'BRD-1' }, ['h9', 'h2']],
    [{ serial: '0002' }, ['h3', 'h5']],
    [{ device: 'D1' }, ['h2']],
    [{ station: 'bench-2' }, ['h2', 'h5']],
    [{ operator: 'op-4' }, ['h2']],
    [{ raisedFrom: '2026-03-02T00:00:00.000Z' }, ['h2', 'h3', 'h4', 'h5']],
    [{ raisedTo: '2026-03-08T00:00:00.001Z' }, ['h9', 'h2', 'h3']],
    [{ raisedFrom: '2026-03-02T01:00:00+01:00', raisedTo: '2026-03-08T00:00:00Z' }, ['h2']],
    [{ state: 'open', customer: 'Eastfield', station: 'bench-2', raisedFrom: '2026-03-09T00:00:00Z' }, ['h5']],
    [{ assembly: 'BRD-2', serial: '0001' }, []],
    [{ subjectKind: 'device' }, ['h2', 'h4']],
    [{ subjectKind: 'profile' }, []],
    [{ stage: 'new' }, ['h9', 'h5']],
    [{ stage: 'assigned' }, ['h2']],
    [{ stage: 'decided' }, ['h4']],
    [{ stage: 'closed' }, ['h3']],
    [{ assignee: 'ann' }, ['h2', 'h4']],
    [{ assignee: 'ann', stage: 'decided' }, ['h4']],
    [{ dueBefore: '2026-03-09T00:00:00.000Z' }, []],
    [{ dueBefore: '2026-03-09T00:00:00.001Z' }, ['h2']],
    [{ dueBefore: '2026-03-12T02:00:00+01:00' }, ['h2', 'h4']],
    [{ containment: CONTAINMENT }, ['h4']],
  ];
  it.each(filters)('finds the holds that fit %j, oldest first', async (filter, ids) => {
    await bench().write({ holds: [...HOLDS].reverse() });
    const { items, next } = await bench().read.holds(filter, { limit: 500, cursor: null });
    expect(items).toEqual(HOLDS.filter((hold) => ids.includes(labelOf(hold))));
    expect(next).toBeNull();
  });
}

function describePaging(bench: () => BookBench): void {
  it('pages holds without skip or repeat, also those of one moment, while holds are added and released', async () => {
    const at = '2026-03-05T00:00:00.000Z';
    const ids = ['h3', 'h1', 'h5', 'h2', 'h4', 'h6', 'h7'];
    await bench().write({ holds: ids.map((id) => sampleHold(id, { raisedAt: at })) });
    const rows = await readPages(
      (page) => bench().read.holds({ customer: 'Northlight' }, page),
      async (pages) => {
        if (pages > 3) return;
        await bench().write({
          holds: [
            sampleHold(`earlier-${pages}`, { raisedAt: '2026-03-04T00:00:00.000Z' }),
            sampleHold(`later-${pages}`, { raisedAt: `2026-03-06T00:00:00.00${pages}Z` }),
            sampleHold(`h${pages}`, { raisedAt: at, state: 'released' }),
          ],
        });
      },
    );
    const found = rows.map(labelOf);
    expect(new Set(found).size).toBe(found.length);
    expect(found.filter((id) => ids.includes(id)).sort()).toEqual([...ids].sort());
    expect(found.filter((id) => id.startsWith('later'))).toEqual(['later-1', 'later-2', 'later-3']);
  });

  it('lists the gravest first where asked to, and the oldest of equal ones', async () => {
    const grave = sampleHold('h6', { reason: 'shipped-open', raisedAt: '2026-03-20T00:00:00.000Z' });
    await bench().write({ holds: [...HOLDS, grave] });
    const all = (page: PageRequest) => bench().read.holds({}, page, 'graveness');
    const labels = ['h6', 'h9', 'h2', 'h3', 'h5', 'h4'];
    expect((await all({ limit: 500, cursor: null })).items.map(labelOf)).toEqual(labels);
    const first = await all({ limit: 2, cursor: null });
    const second = await all({ limit: 3, cursor: first.next });
    const third = await all({ limit: 3, cursor: second.next });
    expect([first, second, third].flatMap(({ items }) => items.map(labelOf))).toEqual(labels);
    expect(third.next).toBeNull();
    await expect(bench().read.holds({}, { limit: 2, cursor: first.next })).rejects.toThrow(RangeError);
  });

  it('ends a list that fills its last page', async () => {
    await bench().write({ holds: HOLDS.slice(0, 4) });
    const first = await bench().read.holds({}, { limit: 2, cursor: null });
    expect(first.next).not.toBeNull();
    const second = await bench().read.holds({}, { limit: 2, cursor: first.next });
    expect(second.items.map(labelOf)).toEqual(['h3', 'h4']);
    expect(second.next).toBeNull();
  });
}

function describeLookups(bench: () => BookBench): void {
  it('finds a hold by its id', async () => {
    await bench().write({ holds: HOLDS });
    expect(await bench().read.holdById(holdId('h4'))).toEqual(HOLDS[3]);
    expect(await bench().read.holdById(holdId('none'))).toBeUndefined();
  });

  it('finds the open holds on a unit and its sites, or on devices, and others where asked', async () => {
    const { read } = bench();
    await bench().write({ holds: HOLDS });
    const ids = async (...asked: Parameters<typeof read.holdsOn>) => (await read.holdsOn(...asked)).map(labelOf).sort();
    // The device's hold came to light on the unit, and is on the device.
    expect(await ids(['BRD-1/0001'])).toEqual(['h9']);
    expect(await ids(['BRD-1/0001', 'devices/D1'])).toEqual(['h2', 'h9']);
    expect(await ids(['BRD-2/0002'])).toEqual(['h5']);
    expect(await ids(['BRD-2/0002'], ['open', 'released', 'withdrawn'])).toEqual(['h3', 'h5']);
    expect(await ids(['BRD-2/0002'], ['released'])).toEqual(['h3']);
    expect(await ids(['devices/D2', 'devices/D9'])).toEqual(['h4']);
    expect(await ids([])).toEqual([]);
  });
}

function describeSummary(bench: () => BookBench): void {
  it('counts open holds by reason, customer, station and age', async () => {
    await bench().write({ holds: HOLDS });
    // h9 and h2 are older than seven days, h4 is two days old, h5 half a day. h3 is not open.
    expect(await bench().read.holdSummary({}, '2026-03-10T00:00:00.000Z')).toEqual({
      open: 4,
      oldestRaisedAt: '2026-03-01T00:00:00.000Z',
      byReason: { 'site-reworks': 1, 'device-excursions': 1, 'by-hand': 1, 'damage-found': 1 },
      byCustomer: { Northlight: 2, Eastfield: 1 },
      byStation: { 'bench-1': 1, 'bench-2': 2 },
      byAssignee: { ann: 2 },
      byStage: { new: 2, assigned: 1, decided: 1 },
      overdue: 1,
      byAge: { underOneDay: 1, oneToSevenDays: 1, overSevenDays: 2 },
    });
  });

  it('takes ages as half-open ranges, the bounds to the older', async () => {
    await bench().write({ holds: HOLDS });
    const at = async (now: string) => (await bench().read.holdSummary({ device: 'D1' }, now)).byAge;
    const [young, middle, old] = [
      { underOneDay: 1, oneToSevenDays: 0, overSevenDays: 0 },
      { underOneDay: 0, oneToSevenDays: 1, overSevenDays: 0 },
      { underOneDay: 0, oneToSevenDays: 0, overSevenDays: 1 },
    ];
    expect(await at('2026-03-02T23:59:59.999Z')).toEqual(young);
    expect(await at('2026-03-03T00:00:00.000Z')).toEqual(middle);
    expect(await at('2026-03-08T23:59:59.999Z')).toEqual(middle);
    expect(await at('2026-03-09T00:00:00.000Z')).toEqual(old);
  });

  it('counts only what fits the filter, and nothing in an empty book', async () => {
    const { read } = bench();
    const none = { underOneDay: 0, oneToSevenDays: 0, overSevenDays: 0 };
    const nothing = {
      ...{ open: 0, oldestRaisedAt: null, byReason: {}, byCustomer: {}, byStation: {}, byAge: none },
      ...{ byAssignee: {}, byStage: { new: 0, assigned: 0, decided: 0 }, overdue: 0 },
    };
    expect(await read.holdSummary({}, '2026-03-10T00:00:00.000Z')).toEqual(nothing);
    await bench().write({ holds: HOLDS });
    expect(await read.holdSummary({ state: 'released' }, '2026-03-10T00:00:00.000Z')).toEqual(nothing);
    expect(await read.holdSummary({ customer: 'Eastfield' }, '2026-03-10T00:00:00.000Z')).toEqual({
      open: 1,
      oldestRaisedAt: '2026-03-09T12:00:00.000Z',
      byReason: { 'damage-found': 1 },
      byCustomer: { Eastfield: 1 },
      byStation: { 'bench-2': 1 },
      byAssignee: {},
      byStage: { new: 1, assigned: 0, decided: 0 },
      overdue: 0,
      byAge: { ...none, underOneDay: 1 },
    });
  });
}
