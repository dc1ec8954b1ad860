import { NO_CHANGES } from './book-bench.contract.js';
import { ChangeNote, ChangePlace, ChangeStore } from './change-store.js';
import { sampleHold } from './book-samples.contract.js';
import { Seal } from './seal.js';
import { MakeStores, useBench } from './use-bench.contract.js';

const UNIT = 'BRD-1/0001';
const PATIENCE_MS = 10_000;

/** A note is told once no transaction before it is at work, whoever's that is: of another database on the same server, too. */
async function soon(changes: ChangeStore, place: ChangePlace, notes: number): Promise<readonly ChangeNote[]> {
  const deadline = performance.now() + PATIENCE_MS;
  for (;;) {
    const told = await changes.after(place, 10);
    if (told.length >= notes) return told;
    if (performance.now() > deadline) throw new Error(`${String(told.length)} notes are told, not ${String(notes)}`);
  }
}

/** What every store of changes must do. `make` gives an empty book each time. */
export function describeChangeStore(name: string, make: MakeStores, seal: Seal): void {
  describe(`change store: ${name}`, () => {
    const bench = useBench(make, seal);

    it('tells of entries and holds once they are committed, and of nothing before the place that is asked from', async () => {
      const { changes } = bench();
      const before = await changes.now();
      expect(await changes.after(before, 10)).toEqual([]);
      await bench().append(UNIT, 2);
      const told = await soon(changes, before, 1);
      expect(told.flatMap(({ entries }) => entries)).toEqual([
        { subject: UNIT, seq: 1 },
        { subject: UNIT, seq: 2 },
      ]);
      const last = told.at(-1)?.place ?? before;
      expect(await changes.after(last, 10)).toEqual([]);
      const hold = sampleHold('told');
      await bench().book.exclusively((tx) => tx.write({ ...NO_CHANGES, holds: [hold] }));
      expect((await soon(changes, last, 1)).flatMap(({ holds }) => holds)).toEqual([hold.id]);
    });

    it('does not tell of what was rolled back', async () => {
      const { changes, book } = bench();
      const before = await changes.now();
      const failed = book.exclusively(async (tx) => {
        await tx.write({ ...NO_CHANGES, holds: [sampleHold('told')] });
        throw new Error('refused');
      });
      await expect(failed).rejects.toThrow('refused');
      await bench().append(UNIT, 1);
      const told = await soon(changes, before, 1);
      expect(told.flatMap(({ holds }) => holds)).toEqual([]);
    });

    it('tells at most so many changes at once, one commit in any case, and goes on from any of them', async () => {
      const { changes } = bench();
      const before = await changes.now();
      for (const [n, subject] of ['BRD-1/0001', 'BRD-1/0002', 'BRD-1/0003'].entries()) {
        await bench().append(subject, n === 0 ? 3 : 1);
      }
      await soon(changes, before, 3);
      const told = async (place: ChangePlace, limit: number): Promise<number[]> =>
        (await changes.after(place, limit)).map(({ entries }) => entries.length);
      expect([await told(before, 1), await told(before, 4), await told(before, 5)]).toEqual([[3], [3, 1], [3, 1, 1]]);
      const [first] = await changes.after(before, 1);
      const rest = await changes.after(first?.place ?? before, 10);
      expect(rest.flatMap(({ entries }) => entries.map(({ subject }) => subject))).toEqual([
        'BRD-1/0002',
        'BRD-1/0003',
      ]);
    });

    it('forgets what is older than a time, and nothing else', async () => {
      const { changes } = bench();
      const before = await changes.now();
      await bench().append(UNIT, 1);
      await changes.forget('2000-01-01T00:00:00Z');
      expect(await soon(changes, before, 1)).toHaveLength(1);
      await changes.forget('2999-01-01T00:00:00Z');
      expect(await changes.after(before, 10)).toEqual([]);
    });
  });
}
