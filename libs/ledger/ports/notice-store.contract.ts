import { holdId, labelOf, sampleHold } from './book-samples.contract.js';
import { BookBench } from './book-bench.contract.js';
import { Deadline, noticeState } from '../notices/notice.js';
import { Seal } from './seal.js';
import { MakeStores, useBench } from './use-bench.contract.js';

const NOW = '2026-03-02T09:00:00.000Z';
const LATER = '2026-03-03T09:00:00.000Z';
const AT = { by: 'quinn', at: LATER, note: 'Sent out today.' };
const FIRST = { now: NOW, after: null, limit: 10 };

const calibration = (station: string, differs: Partial<Deadline> = {}): Deadline => ({
  kind: 'calibration',
  level: 'ahead',
  subject: { kind: 'station', station },
  item: '',
  dueAt: '2026-03-05T00:00:00.000Z',
  detail: `The calibration of ${station} is due.`,
  remedy: 'Calibrate it.',
  ...differs,
});

/** What every keeper of notices must do. `make` gives a book without notices each time. */
export function describeNoticeStore(name: string, make: MakeStores, seal: Seal): void {
  describe(`notice store: ${name}`, () => {
    const bench = useBench(make, seal);
    describeRaising(bench);
    describeReading(bench);
    describeClocks(bench);
    describeOverdue(bench);
  });
}

/** Raises with ids made of a label and a number. */
function raise(bench: BookBench, label: string, deadlines: readonly Deadline[], now = NOW): Promise<number> {
  let count = 0;
  return bench.notices.raise(deadlines, { now, newId: () => holdId(`${label}${String((count += 1))}`) });
}

async function states(bench: BookBench): Promise<string[]> {
  const { items } = await bench.notices.list({}, { limit: 100, cursor: null });
  return items.map((notice) => `${labelOf(notice)} ${notice.level} ${noticeState(notice)}`);
}

function describeRaising(bench: () => BookBench): void {
  it('gives back what was raised', async () => {
    const skill = calibration('', {
      kind: 'qualification',
      subject: { kind: 'operator', operator: 'ann' },
      item: 'vacuum',
    });
    expect(await raise(bench(), 'n', [skill])).toBe(1);
    const { items } = await bench().notices.list({}, { limit: 10, cursor: null });
    const more = { id: holdId('n1'), raisedAt: NOW, acknowledgement: null, settledAt: null };
    expect(items).toEqual([{ ...skill, ...more }]);
    expect(await bench().notices.standing(['qualification'])).toEqual(items);
    expect(await bench().notices.standing(['calibration', 'moisture'])).toEqual([]);
  });

  it('raises each once, and tells apart kind, subject, item, instant and level', async () => {
    const all = [
      calibration('A'),
      calibration('B'),
      calibration('A', { dueAt: '2026-03-05T00:00:00.001Z' }),
      calibration('A', { item: 'other' }),
      calibration('A', { kind: 'qualification' }),
    ];
    expect(await raise(bench(), 'n', all)).toBe(5);
    expect(await raise(bench(), 'm', all, LATER)).toBe(0);
    expect(await raise(bench(), 'o', [calibration('A', { level: 'due' })], LATER)).toBe(1);
  });

  it('raises each once though many raise it at the same time', async () => {
    const all = ['A', 'B', 'C', 'D'].map((station) => calibration(station));
    const ways = [all, [...all].reverse(), all.slice(1), all.slice(2)];
    const raised = await Promise.all(ways.map((some, n) => raise(bench(), `${String(n)}-`, some)));
    expect(raised.reduce((sum, count) => sum + count)).toBe(4);
    expect(await bench().notices.standing(['calibration'])).toHaveLength(4);
  });

  it('settles the warning ahead once that for the instant is there, and raises none after it', async () => {
    await raise(bench(), 'a', [calibration('A')]);
    await raise(bench(), 'd', [calibration('A', { level: 'due' })], LATER);
    expect(await states(bench())).toEqual(['a1 ahead settled', 'd1 due open']);
    await raise(bench(), 'b', [calibration('B', { level: 'due' })]);
    expect(await raise(bench(), 'c', [calibration('B')], LATER)).toBe(0);
    expect(await states(bench())).toEqual(['a1 ahead settled', 'b1 due open', 'd1 due open']);
  });

  it('settles by id, once, and takes one up again when its instant comes back', async () => {
    await raise(bench(), 'a', [calibration('A'), calibration('B')]);
    await bench().notices.settle([holdId('a1'), holdId('none')], LATER);
    await bench().notices.settle([holdId('a1')], '2026-03-04T00:00:00.000Z');
    const [settled] = (await bench().notices.list({ state: 'settled' }, { limit: 10, cursor: null })).items;
    expect(settled).toMatchObject({ id: holdId('a1'), settledAt: LATER });
    expect(await raise(bench(), 'b', [calibration('A')], LATER)).toBe(0);
    expect(await states(bench())).toEqual(['a1 ahead open', 'a2 ahead open']);
  });
}

function describeReading(bench: () => BookBench): void {
  it('lists by due instant page by page, and by kind, level and state', async () => {
    const { notices } = bench();
    await raise(bench(), 'n', [
      calibration('C', { dueAt: '2026-03-07T00:00:00.000Z' }),
      calibration('A', { dueAt: '2026-03-05T00:00:00.000Z' }),
      calibration('B', { dueAt: '2026-03-05T00:00:00.000Z', level: 'due' }),
      calibration('D', { dueAt: '2026-03-06T00:00:00.000Z', kind: 'moisture' }),
    ]);
    const labels: string[] = [];
    for (let cursor: string | null = null, first = true; first || cursor !== null; first = false) {
      const page = await notices.list({}, { limit: 2, cursor });
      labels.push(...page.items.map(labelOf));
      cursor = page.next;
    }
    expect(labels).toEqual(['n2', 'n3', 'n4', 'n1']);
    const found = async (filter: Parameters<typeof notices.list>[0]): Promise<string[]> =>
      (await notices.list(filter, { limit: 10, cursor: null })).items.map(labelOf);
    expect(await found({ kind: 'moisture' })).toEqual(['n4']);
    expect(await found({ level: 'due' })).toEqual(['n3']);
    await notices.acknowledge(holdId('n2'), AT);
    await notices.settle([holdId('n1')], LATER);
    expect(await found({ state: 'acknowledged' })).toEqual(['n2']);
    expect(await found({ state: 'settled' })).toEqual(['n1']);
    expect(await found({ state: 'open' })).toEqual(['n3', 'n4']);
    expect(await found({ state: 'open', kind: 'calibration', level: 'ahead' })).toEqual([]);
    expect(await notices.countOpen()).toEqual({ calibration: 1, moisture: 1 });
    await expect(notices.list({}, { limit: 10, cursor: 'nonsense' })).rejects.toThrow(RangeError);
  });

  it('is acknowledged once, while it is open', async () => {
    const { notices } = bench();
    await raise(bench(), 'n', [calibration('A'), calibration('B')]);
    const [first, second] = await Promise.all([
      notices.acknowledge(holdId('n1'), AT),
      notices.acknowledge(holdId('n1'), { ...AT, by: 'other' }),
    ]);
    expect([first, second].filter((answer) => answer === 'not-open')).toHaveLength(1);
    const won = first === 'not-open' ? second : first;
    expect((await notices.list({ state: 'acknowledged' }, { limit: 10, cursor: null })).items).toEqual([won]);
    await notices.settle([holdId('n2')], LATER);
    expect(await notices.acknowledge(holdId('n2'), AT)).toBe('not-open');
    expect(await notices.acknowledge(holdId('none'), AT)).toBe('not-found');
    expect(await notices.acknowledge('nonsense', AT)).toBe('not-found');
  });
}

const CLOCK = { warnsAt: '2026-03-02T08:00:00Z', endsAt: '2026-03-02T10:00:00Z' };
const moisture = (device: string, differs: Partial<Deadline> = {}): Deadline =>
  calibration('', {
    kind: 'moisture',
    subject: { kind: 'device', device },
    dueAt: '2026-03-02T10:00:00.000Z',
    ...differs,
  });

/** Writes a device with the end of its floor life. */
function writeClock(bench: BookBench, device: string, clock?: typeof CLOCK | null): Promise<void> {
  return bench.book.exclusively(async (tx) => {
    const { subject, entries } = bench.grown(await bench.loadOne(tx, `devices/${device}`));
    const record = { ...subject, ...(clock !== undefined && { clock }) };
    await tx.write({ subjects: [record], entries, holds: [], done: [], parked: [], postponed: [] });
  });
}

function describeClocks(bench: () => BookBench): void {
  it('finds subjects by their clocks, until a notice says so', async () => {
    const { notices } = bench();
    await writeClock(bench(), 'D1', CLOCK);
    await writeClock(bench(), 'D2', { warnsAt: '2026-03-02T09:00:00.001Z', endsAt: '2026-03-02T10:00:00Z' });
    await writeClock(bench(), 'D3', null);
    await writeClock(bench(), 'D4', CLOCK);
    expect(await notices.clocksDue(FIRST)).toEqual(['devices/D1', 'devices/D4']);
    expect(await notices.clocksDue({ ...FIRST, limit: 1 })).toEqual(['devices/D1']);
    expect(await notices.clocksDue({ ...FIRST, after: 'devices/D1' })).toEqual(['devices/D4']);
    await raise(bench(), 'a', [moisture('D1')]);
    expect(await notices.clocksDue(FIRST)).toEqual(['devices/D4']);
    const atTheEnd = { ...FIRST, now: '2026-03-02T10:00:00.000Z' };
    expect(await notices.clocksDue(atTheEnd)).toEqual(['devices/D1', 'devices/D2', 'devices/D4']);
    await raise(bench(), 'd', [moisture('D1', { level: 'due' })], LATER);
    expect(await notices.clocksDue(atTheEnd)).toEqual(['devices/D2', 'devices/D4']);
  });

  it('leaves a clock as it is where a record does not tell of it, and clears it where it tells of none', async () => {
    const { notices } = bench();
    await writeClock(bench(), 'D1', CLOCK);
    await writeClock(bench(), 'D1');
    expect(await notices.clocksDue(FIRST)).toEqual(['devices/D1']);
    await writeClock(bench(), 'D1', null);
    expect(await notices.clocksDue(FIRST)).toEqual([]);
  });

  it('corrects a clock unless the ledger has grown', async () => {
    const { notices } = bench();
    await writeClock(bench(), 'D1', CLOCK);
    await notices.moveClock('devices/D1', 0, null);
    expect(await notices.clocksDue(FIRST)).toEqual(['devices/D1']);
    await notices.moveClock('devices/D1', 1, null);
    expect(await notices.clocksDue(FIRST)).toEqual([]);
    await notices.moveClock('devices/D1', 1, CLOCK);
    expect(await notices.clocksDue(FIRST)).toEqual(['devices/D1']);
    await notices.moveClock('devices/none', 0, CLOCK);
    expect(await notices.clocksDue(FIRST)).toEqual(['devices/D1']);
  });

  it('settles notices of clocks that were moved or stopped, and no others', async () => {
    const { notices } = bench();
    for (const device of ['D1', 'D2', 'D3']) await writeClock(bench(), device, CLOCK);
    await raise(bench(), 'n', [moisture('D1'), moisture('D2'), moisture('D3'), calibration('A')]);
    await writeClock(bench(), 'D2', { ...CLOCK, endsAt: '2026-03-02T10:00:01Z' });
    await writeClock(bench(), 'D3', null);
    await notices.settleMoved('moisture', LATER);
    expect((await states(bench())).sort()).toEqual([
      'n1 ahead open',
      'n2 ahead settled',
      'n3 ahead settled',
      'n4 ahead open',
    ]);
  });
}

function describeOverdue(bench: () => BookBench): void {
  const overdue = (label: string, dueAt: string): Deadline => {
    const { subject } = sampleHold(label);
    return calibration('', { kind: 'hold-overdue', level: 'due', subject, item: holdId(label), dueAt });
  };

  it('finds open holds that are overdue, until a notice says so of that instant', async () => {
    const { notices } = bench();
    const dueAt = '2026-03-02T08:59:00.000Z';
    await bench().write({
      holds: [
        sampleHold('h1', { dueAt }),
        sampleHold('h2', { dueAt, reason: 'by-hand' }),
        sampleHold('h3', { dueAt: '2026-03-02T09:00:00.001Z', reason: 'late-event' }),
        sampleHold('h4', { reason: 'damage-found' }),
        sampleHold('h5', { dueAt, state: 'withdrawn' }),
      ],
    });
    expect((await notices.holdsOverdue(FIRST)).map(labelOf)).toEqual(['h1', 'h2']);
    expect((await notices.holdsOverdue({ ...FIRST, limit: 1 })).map(labelOf)).toEqual(['h1']);
    expect((await notices.holdsOverdue({ ...FIRST, after: holdId('h1') })).map(labelOf)).toEqual(['h2']);
    await raise(bench(), 'n', [overdue('h1', dueAt)]);
    expect((await notices.holdsOverdue(FIRST)).map(labelOf)).toEqual(['h2']);
    await bench().write({ holds: [sampleHold('h1', { dueAt: '2026-03-02T08:59:59.000Z' })] });
    expect((await notices.holdsOverdue(FIRST)).map(labelOf)).toEqual(['h1', 'h2']);
  });

  it('settles notices of holds that were closed or given another date', async () => {
    const { notices } = bench();
    const dueAt = '2026-03-02T08:59:00.000Z';
    const holds = ['h1', 'h2', 'h3'].map((label) => sampleHold(label, { dueAt }));
    await bench().write({ holds });
    await raise(bench(), 'n', [overdue('h1', dueAt), overdue('h2', dueAt), overdue('h3', dueAt)]);
    await bench().write({
      holds: [sampleHold('h2', { dueAt: '2026-03-09T00:00:00.000Z' }), sampleHold('h3', { dueAt, state: 'withdrawn' })],
    });
    await notices.settleMoved('hold-overdue', LATER);
    expect(await states(bench())).toEqual(['n1 due open', 'n2 due settled', 'n3 due settled']);
  });
}
