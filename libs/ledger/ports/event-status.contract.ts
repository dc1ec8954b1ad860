import { BookBench, number, STATION } from './book-bench.contract.js';
import { labelOf, sampleHold, UNKNOWN_ASSEMBLY } from './book-samples.contract.js';
import { readPages } from './read-pages.contract.js';

const UNIT = 'BRD-1/0001';

/** What can be seen of events on their way. */
export function describeEvents(bench: () => BookBench): void {
  const ref = (id: string) => ({ source: STATION, id });

  it('shows what has become of an event, with its entries and holds', async () => {
    const { read, book } = bench();
    await bench().accept('e1', 'e2', 'e3');
    await bench().settle(([e1, e2]) => ({
      done: e1 === undefined ? [] : [number(e1)],
      parked: e2 === undefined ? [] : [{ number: number(e2), reason: UNKNOWN_ASSEMBLY }],
    }));
    const [onUnit] = await bench().append(UNIT, 1, { event: ref('e1') });
    await bench().append('devices/D1', 1);
    const [onDevice] = await bench().append('devices/D1', 1, { event: ref('e1') });
    const cause = { at: '2026-03-02T08:30:00.000000000Z', source: STATION, id: 'e1' };
    await bench().write({
      holds: [
        sampleHold('h1', { causes: [{ ...cause, id: 'e0' }, cause] }),
        sampleHold('h2', { causes: [{ ...cause, source: '/stations/bench-2' }] }),
        sampleHold('h3', { causes: [], state: 'released' }),
        sampleHold('h4', { causes: [cause], state: 'withdrawn' }),
      ],
    });
    const about = { subject: UNIT, type: 'heatbook.unit.scrapped.v1' };
    const applied = await read.eventStatus(ref('e1'));
    expect(applied).toMatchObject({ ...about, state: 'applied', reason: null });
    expect([...(applied?.entries ?? [])].sort((a, b) => (a.subject < b.subject ? -1 : 1))).toEqual([
      { subject: UNIT, seq: 1, hash: onUnit?.hash },
      { subject: 'devices/D1', seq: 2, hash: onDevice?.hash },
    ]);
    expect((await read.holdsByEvent(ref('e1'))).map(labelOf).sort()).toEqual(['h1', 'h4']);
    expect(await read.eventStatus(ref('e2'))).toEqual({
      ...about,
      state: 'parked',
      reason: UNKNOWN_ASSEMBLY,
      entries: [],
    });
    const pending = { ...about, state: 'pending', reason: null, entries: [] };
    expect(await read.eventStatus(ref('e3'))).toEqual(pending);
    expect(await read.eventStatus({ source: '/stations/bench-2', id: 'e1' })).toBeUndefined();
    expect(await read.holdsByEvent(ref('e3'))).toEqual([]);

    await book.unpark(ref('e2'));
    expect(await read.eventStatus(ref('e2'))).toEqual(pending);
  });

  it('says of one that was struck that it is annulled, and still shows its entries', async () => {
    await bench().accept('e1');
    await bench().settle(([e1]) => ({ done: e1 === undefined ? [] : [number(e1)] }));
    await bench().append(UNIT, 1, { event: ref('e1') });
    await bench().append(UNIT, 1, { event: ref('e1'), type: 'heatbook.entry.annulled.v1' });
    const status = await bench().read.eventStatus(ref('e1'));
    expect(status?.state).toBe('annulled');
    expect(status?.entries.map(({ seq }) => seq)).toEqual([1, 2]);
  });

  it('lists parked events with why and since when, and pages them while more are parked and retried', async () => {
    const { read, book } = bench();
    const parkAll = () =>
      bench().settle((events) => ({
        parked: events.map((event) => ({ number: number(event), reason: UNKNOWN_ASSEMBLY })),
      }));
    await bench().accept('e1', 'e2', 'e3', 'e4', 'e5');
    await parkAll();
    const rows = await readPages(
      (page) => read.parked(page),
      async (pages) => {
        if (pages > 2) return;
        await bench().accept(`later ${pages}`);
        await parkAll();
        await book.unpark(ref('e1'));
      },
    );
    const found = rows.map(({ id }) => id);
    expect(new Set(found).size).toBe(found.length);
    expect(found.filter((id) => id.startsWith('e')).sort()).toEqual(['e1', 'e2', 'e3', 'e4', 'e5']);
    const { parkedAt, ...row } = rows[0] ?? { parkedAt: '' };
    expect(row).toMatchObject({ source: STATION, type: 'heatbook.unit.scrapped.v1', subject: UNIT });
    expect(row).toMatchObject({ reason: UNKNOWN_ASSEMBLY });
    expect(parkedAt).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/);
  });

  it('says how many events wait, since when, and how many are parked', async () => {
    const { read } = bench();
    expect(await read.backlog()).toEqual({ pending: 0, oldestReceivedAt: null, parked: 0 });
    await bench().accept('e1');
    const { oldestReceivedAt: first } = await read.backlog();
    expect(first).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/);
    await bench().after(5, () => Promise.resolve(true));
    await bench().accept('e2', 'e3');
    expect(await read.backlog()).toEqual({ pending: 3, oldestReceivedAt: first, parked: 0 });
    await bench().settle((pending) => ({
      done: pending.filter(({ event }) => event.order.id === 'e1').map(number),
      parked: pending
        .filter(({ event }) => event.order.id === 'e2')
        .map((event) => ({ number: number(event), reason: UNKNOWN_ASSEMBLY })),
    }));
    const then = await read.backlog();
    expect(then).toMatchObject({ pending: 1, parked: 1 });
    expect(String(then.oldestReceivedAt) >= String(first)).toBe(true);
  });
}
