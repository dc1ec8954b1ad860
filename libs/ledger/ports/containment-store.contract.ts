import { Contained, ContainmentRecord, ContainmentRound, RoundEnded } from '../containment/containment-record.js';
import { NO_CHANGES } from './book-bench.contract.js';
import { holdId, sampleHold } from './book-samples.contract.js';
import { Seal } from './seal.js';
import { MakeStores, useBench } from './use-bench.contract.js';

const AT = '2026-03-02T08:30:01.000Z';
const LATER = '2026-03-02T08:31:00.000Z';

/** What every keeper of containments must do. `make` gives a book without any each time. */
export function describeContainmentStore(name: string, make: MakeStores, seal: Seal): void {
  describe(`containment store: ${name}`, () => {
    const bench = useBench(make, seal);

    const round = (note: string): ContainmentRound => ({
      note,
      signed: { act: 'contain', note },
      signature: { by: 'ann', named: 'a1', at: AT, meaning: 'contain', contentHash: seal.sha256Hex(note) },
      held: null,
    });
    const containment = (label: string, over: Partial<ContainmentRecord> = {}): ContainmentRecord => ({
      id: holdId(label),
      cause: { kind: 'profile', name: 'BIG-ON', revision: 'A' },
      from: '2026-03-01T00:00:00.000000Z',
      to: '2026-03-02T00:00:00.000000Z',
      holdCause: true,
      causeHolds: [],
      state: 'finding',
      rounds: [round('first')],
      found: null,
      held: 0,
      attempts: 0,
      failure: null,
      requestedAt: AT,
      seenAt: AT,
      finishedAt: null,
      ...over,
    });
    const contained = (key: string, hold: string, touches = 1): Contained => ({
      key,
      subject: { kind: 'unit', assembly: 'BRD-1', serial: key.slice('BRD-1/'.length) },
      customer: 'Northlight',
      state: 'shipped',
      firstAt: '2026-03-01T10:00:00.000000Z',
      lastAt: '2026-03-01T11:00:00.000000Z',
      touches,
      entries: [],
      through: ['N1'],
      hold: holdId(hold),
      round: 1,
    });
    const hold = async (label: string, serial: string, over: object = {}): Promise<void> => {
      const subject = { kind: 'unit', assembly: 'BRD-1', serial } as const;
      await bench().write({ holds: [sampleHold(label, { subject, unit: { assembly: 'BRD-1', serial }, ...over })] });
    };
    const finish = (id: string, number: number, list: readonly Contained[], causeHolds: readonly string[] = []) =>
      bench().write({ ...NO_CHANGES, contained: { id, round: number, contained: list, causeHolds, at: LATER } });

    it('keeps a containment as it was given, and lists the newest first', async () => {
      const { containments } = bench();
      const [first, second, third] = [
        containment('a'),
        containment('b', { cause: { kind: 'lot', lot: 'F 1' }, holdCause: false }),
        containment('c', { requestedAt: LATER }),
      ];
      for (const one of [third, first, second]) await containments.add(one);
      expect(await containments.get(first.id)).toEqual(first);
      expect(await containments.get('nothing')).toBeUndefined();
      const page = await containments.list({ limit: 2, cursor: null });
      expect(page.items).toEqual([third, second]);
      expect(await containments.list({ limit: 2, cursor: page.next })).toEqual({ items: [first], next: null });
      await expect(containments.list({ limit: 2, cursor: 'no such' })).rejects.toThrow(RangeError);
    });

    it('counts attempts, shows progress, and says why it failed', async () => {
      const { containments } = bench();
      const { id } = containment('a');
      await containments.add(containment('a'));
      expect(await containments.begin(id, LATER)).toMatchObject({ state: 'finding', attempts: 1, seenAt: LATER });
      await containments.progress(id, { state: 'holding', found: 7, held: 3 }, LATER);
      expect(await containments.get(id)).toMatchObject({ state: 'holding', found: 7, held: 3 });
      await containments.failed(id, 'no luck', false, LATER);
      expect(await containments.get(id)).toMatchObject({
        state: 'holding',
        held: 0,
        failure: 'no luck',
        finishedAt: null,
      });
      await containments.failed(id, 'given up', true, LATER);
      expect(await containments.get(id)).toMatchObject({ state: 'failed', failure: 'given up', finishedAt: LATER });
      expect(await containments.begin(id, LATER)).toBeUndefined();
    });

    it('finds rounds that nobody works on, by whether they were begun', async () => {
      const { containments } = bench();
      const [waiting, begun] = [containment('a'), containment('b')];
      await containments.add(waiting);
      await containments.add(begun);
      await containments.begin(begun.id, LATER);
      const soon = '2026-03-02T08:30:30.000Z';
      expect(await containments.abandoned(AT, soon)).toEqual([]);
      expect(await containments.abandoned(soon, soon)).toEqual([waiting.id]);
      expect(await containments.abandoned(soon, '2026-03-02T09:00:00.000Z')).toEqual([waiting.id, begun.id]);
    });

    it('ends a round with what it holds, once', async () => {
      const { containments } = bench();
      const { id } = containment('a');
      await containments.add(containment('a'));
      await hold('h1', '0001');
      await hold('h2', '0002', { state: 'released' });
      const list = [contained('BRD-1/0001', 'h1', 2), contained('BRD-1/0002', 'h2', 5)];
      await finish(id, 1, list, [holdId('h3')]);
      expect(await containments.get(id)).toMatchObject({
        ...{ state: 'done', found: 2, held: 2, finishedAt: LATER },
        ...{ rounds: [{ held: 2 }], causeHolds: [holdId('h3')] },
      });
      const page = await containments.contained(id, { limit: 1, cursor: null });
      expect(page.items).toEqual(list.slice(0, 1));
      expect(await containments.contained(id, { limit: 1, cursor: page.next })).toEqual({
        items: list.slice(1),
        next: null,
      });
      expect(await containments.marks(id)).toEqual(
        new Map([
          ['BRD-1/0001', { touches: 2, open: true }],
          ['BRD-1/0002', { touches: 5, open: false }],
        ]),
      );
      await expect(finish(id, 1, [contained('BRD-1/0003', 'h1')])).rejects.toThrow(RoundEnded);
      expect((await containments.contained(id, { limit: 10, cursor: null })).items).toHaveLength(2);
      await containments.failed(id, 'too late', true, LATER);
      expect(await containments.get(id)).toMatchObject({ state: 'done', failure: null });
    });

    it('takes another round after the end of one, and not before', async () => {
      const { containments } = bench();
      const { id } = containment('a');
      await containments.add(containment('a'));
      expect(await containments.again(id, round('again'), LATER)).toBe('busy');
      expect(await containments.again(holdId('none'), round('again'), LATER)).toBe('not-found');
      await hold('h1', '0001');
      await finish(id, 1, [contained('BRD-1/0001', 'h1')]);
      expect(await containments.again(id, round('again'), LATER)).toMatchObject({
        ...{ state: 'finding', found: null, held: 0, attempts: 0, finishedAt: null },
        rounds: [
          { note: 'first', held: 1 },
          { note: 'again', held: null },
        ],
      });
      expect(await containments.again(id, round('once more'), LATER)).toBe('busy');
      await expect(finish(id, 1, [])).rejects.toThrow(RoundEnded);
      await finish(id, 2, [{ ...contained('BRD-1/0001', 'h1', 9), round: 2 }]);
      expect(await containments.marks(id)).toEqual(new Map([['BRD-1/0001', { touches: 9, open: true }]]));
    });
  });
}
