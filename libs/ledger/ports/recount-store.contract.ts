import { marksOf } from '../containment/marks-of.js';
import { BOOK_ENTRY_TYPES } from '../fold/book-effect.js';
import { eventId, number, STATION } from './book-bench.contract.js';
import { labelOf, sampleHold, UNKNOWN_ASSEMBLY } from './book-samples.contract.js';
import { KeptMark, RecountReads } from './recount-store.js';
import { GENESIS_HASH, Seal } from './seal.js';
import { MakeStores, useBench } from './use-bench.contract.js';

const UNIT = 'BRD-1/0001';
const OTHER = 'BRD-1/0002';
const DEVICE = 'devices/D1';

/** What every source of a recount must do. `make` gives an empty book each time. */
export function describeRecountStore(name: string, make: MakeStores, seal: Seal): void {
  describe(`what a recount reads: ${name}`, () => {
    const bench = useBench(make, seal);
    const read = <T>(work: (reads: RecountReads) => Promise<T>): Promise<T> => bench().recount.snapshot(work);

    it('has subjects page by page, by key, and those asked for', async () => {
      for (const key of [OTHER, DEVICE, UNIT]) await bench().append(key, 2);
      await read(async (reads) => {
        expect((await reads.subjects(null, 2)).map(({ key }) => key)).toEqual([UNIT, OTHER]);
        const [last, ...more] = await reads.subjects(OTHER, 2);
        expect(more).toEqual([]);
        expect(last).toMatchObject({ key: DEVICE, state: { kind: 'device' }, headSeq: 2 });
        expect((await reads.subjectsOf([DEVICE, 'BRD-1/none', UNIT])).map(({ key }) => key)).toEqual([UNIT, DEVICE]);
      });
    });

    it('has entries by key and sequence, with what they are looked up by', async () => {
      const event = { source: STATION, id: 'e1' };
      const own = await bench().append(UNIT, 3);
      const [said] = await bench().append(DEVICE, 1, { event, time: '2026-03-02T09:30:00.1234567+01:00' });
      await bench().append(OTHER, 1);
      await read(async (reads) => {
        const first = await reads.entries([DEVICE, UNIT], null, 2);
        expect(first.map(({ subject, seq, hash }) => ({ subject, seq, hash }))).toEqual(
          own.slice(0, 2).map(({ subject, seq, hash }) => ({ subject, seq, hash })),
        );
        expect(first.map(({ bytes }) => seal.sha256Hex(bytes))).toEqual(first.map(({ hash }) => hash));
        const rest = await reads.entries([DEVICE, UNIT], { subject: UNIT, seq: 2 }, 5);
        expect(rest.map(({ subject, seq }) => `${subject} ${seq}`)).toEqual([`${UNIT} 3`, `${DEVICE} 1`]);
        expect(rest.map(({ filed }) => filed)).toEqual([
          { type: own[2]?.type, event: null, recordedAt: own[2]?.recordedAt, happenedAt: null },
          { type: said?.type, event, recordedAt: said?.recordedAt, happenedAt: '2026-03-02T08:30:00.123456Z' },
        ]);
      });
    });

    it('has holds on a subject and those that came to light on it, and keys that only holds know', async () => {
      await bench().append(UNIT, 1);
      const subject = { kind: 'device', device: 'D1' } as const;
      await bench().write({
        holds: [
          sampleHold('site'),
          sampleHold('device', { subject, raisedAt: '2026-03-02T08:30:02.000Z' }),
          sampleHold('gone', { subject, unit: null, state: 'withdrawn', raisedAt: '2026-03-02T08:30:03.000Z' }),
        ],
      });
      await read(async (reads) => {
        expect((await reads.holds([UNIT])).map(labelOf)).toEqual(['site', 'device']);
        expect((await reads.holds([DEVICE])).map(labelOf)).toEqual(['device', 'gone']);
        expect(await reads.strayKeys(5)).toEqual([DEVICE]);
      });
    });

    it('says where accepted events are', async () => {
      await bench().accept('waits', 'is parked', 'is told', 'was struck');
      await bench().settle((pending) => {
        const numbered = (id: string): string[] => pending.filter((one) => eventId(one) === id).map(number);
        const parked = numbered('is parked').map((one) => ({ number: one, reason: UNKNOWN_ASSEMBLY }));
        return { done: [...numbered('is told'), ...numbered('was struck')], parked };
      });
      const type = 'heatbook.unit.scrapped.v1';
      await bench().append(UNIT, 1, { type, event: { source: STATION, id: 'is told' } });
      await bench().append(UNIT, 1, { type: BOOK_ENTRY_TYPES.annulled, event: { source: STATION, id: 'was struck' } });
      await bench().append(OTHER, 1, { type, event: { source: STATION, id: 'never came' } });
      const causes = [{ at: '2026-03-02T08:30:00.000000000Z', source: STATION, id: 'is parked' }];
      await bench().write({ holds: [sampleHold('parked', { reason: 'event-parked', causes })] });
      await read(async (reads) => {
        const places = await reads.inbox('0', 10);
        const none = {
          source: STATION,
          subject: UNIT,
          pending: false,
          parked: false,
          told: 0,
          struck: false,
          held: false,
        };
        expect(places).toEqual([
          { ...none, id: 'waits', number: places[0]?.number, pending: true },
          { ...none, id: 'is parked', number: places[1]?.number, parked: true, held: true },
          { ...none, id: 'is told', number: places[2]?.number, told: 1 },
          { ...none, id: 'was struck', number: places[3]?.number, struck: true },
        ]);
        expect((await reads.inbox(places[1]?.number ?? '', 1)).map(({ id }) => id)).toEqual(['is told']);
        const refs = places.map(({ id }) => ({ source: STATION, id }));
        expect((await reads.waiting(refs)).map(({ id }) => id).sort()).toEqual(['is parked', 'waits']);
        expect(await reads.unaccepted(5)).toEqual([{ subject: OTHER, seq: 1 }]);
        expect(await reads.strayNumbers(5)).toEqual([]);
      });
    });

    it('has every mark of every entry, under its hour', async () => {
      const said = { actor: { operator: 'op-1' }, data: { solderAlloy: 'SAC305' }, effects: [] };
      const [one] = await bench().append(UNIT, 1, { event: { source: STATION, id: 'e1' }, ...said });
      const [other] = await bench().append(OTHER, 1, { event: { source: STATION, id: 'e2' }, ...said });
      await bench().append(OTHER, 1, { event: null });
      const expected = [one, other].flatMap((entry) =>
        entry === undefined
          ? []
          : marksOf(entry).marks.map((mark) => ({
              mark,
              hour: '2026-03-02T08:00:00Z',
              subject: entry.subject,
              seq: 1,
            })),
      );
      expect(expected).toHaveLength(6);
      await read(async (reads) => {
        const found: KeptMark[] = [];
        for await (const page of reads.marks()) found.push(...page);
        const inOrder = (marks: readonly KeptMark[]): string[] => marks.map((mark) => JSON.stringify(mark)).sort();
        expect(inOrder(found)).toEqual(inOrder(expected));
      });
    });

    it('has the log and single ledgers beside it', async () => {
      const [entry] = await bench().append(UNIT, 1);
      await read(async (reads) => {
        expect(await reads.log.size()).toBe(0);
        expect(await reads.log.outsideLog(5)).toEqual([]);
        const page = { limit: 5, order: 'desc', afterSeq: null } as const;
        expect(await reads.ledger(UNIT, page)).toEqual([entry]);
        expect(entry?.prevHash).toBe(GENESIS_HASH);
      });
    });
  });
}
