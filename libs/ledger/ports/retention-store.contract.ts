import { DueUnit } from '../retention/due-unit.js';
import { LegalAct, LegalHold, LegalScope } from '../retention/legal-hold.js';
import { holdId, unitState } from './book-samples.contract.js';
import { Seal } from './seal.js';
import { MakeStores, useBench } from './use-bench.contract.js';

const PAGE = { limit: 10, cursor: null };
const SHIPPED = 'heatbook.unit.shipped.v1';
const NOW = '2026-06-01T00:00:00Z';

/** What every keeper of legal holds, and finder of what is due, must do. `make` gives an empty book each time. */
export function describeRetentionStore(name: string, make: MakeStores, seal: Seal): void {
  describe(`retention store: ${name}`, () => {
    const bench = useBench(make, seal);

    const act = (by: string, at: string, note = 'as asked'): LegalAct => ({
      note,
      signed: { act: 'sample', by, note },
      signature: { by, named: 'a1', at, meaning: 'checked', contentHash: seal.sha256Hex(`${by} ${at}`) },
    });
    const legalHold = (label: string, scope: LegalScope, at = '2026-03-02T08:00:00.000Z'): LegalHold => {
      return { id: holdId(label), scope, reference: `matter ${label}`, ...act('ann', at), lift: null };
    };
    const add = (label: string, scope: LegalScope, at?: string): Promise<void> =>
      bench().retention.addLegalHold(legalHold(label, scope, at));
    const lift = (label: string, by = 'bob'): Promise<LegalHold | undefined> =>
      bench().retention.liftLegalHold(holdId(label), act(by, '2026-03-03T08:00:00.000Z'));

    const assembly = async (name: string, customer: string): Promise<void> => {
      const body = { customer, description: 'a board', leadFree: true, assemblyReflows: 1, sites: [] };
      await bench().setup.revise('assembly', name, body, 'admin');
    };
    /** A unit that left at these times, in order of their entries. */
    const left = async (key: string, times: readonly string[], status: 'shipped' | 'in-house' = 'shipped') => {
      const [board = '', serial = ''] = key.split('/');
      let n = 0;
      for (const time of times) {
        const event = { source: '/stations/out', id: `${key} ${String((n += 1))}` };
        await bench().append(key, 1, { type: SHIPPED, time, event });
      }
      await bench().book.exclusively(async (tx) => {
        const record = await bench().loadOne(tx, key);
        const state = { ...unitState(board, serial), status };
        const subjects = [{ ...record, state: { kind: 'unit' as const, state } }];
        await tx.write({ subjects, entries: [], holds: [], done: [], parked: [], postponed: [] });
      });
    };
    const due = async (keepYears: number, before = NOW): Promise<readonly DueUnit[]> =>
      (await bench().retention.due({ terms: [{ customer: 'Alder', keepYears }], before }, PAGE)).items;
    const dueKeys = async (keepYears: number, before = NOW): Promise<string[]> =>
      (await due(keepYears, before)).map((unit) => `${unit.assembly}/${unit.serial}`);

    it('keeps a legal hold as it was given, whatever it is over', async () => {
      const { retention } = bench();
      const scopes: readonly LegalScope[] = [
        { customer: 'Alder & Sons' },
        { assembly: 'A-1' },
        { unit: { assembly: 'A-1', serial: '1' } },
      ];
      for (const [n, scope] of scopes.entries()) await add(`h${String(n)}`, scope);
      for (const [n, scope] of scopes.entries()) {
        expect(await retention.legalHold(holdId(`h${String(n)}`))).toEqual(legalHold(`h${String(n)}`, scope));
      }
      expect(await retention.legalHold(holdId('none'))).toBeUndefined();
      expect(await retention.legalHold('no id')).toBeUndefined();
    });

    it('lets somebody else lift it, once', async () => {
      const { retention } = bench();
      await add('h', { assembly: 'A-1' });
      await expect(lift('h', 'ann')).rejects.toThrow();
      expect((await retention.legalHold(holdId('h')))?.lift).toBeNull();
      const lifted = await lift('h', 'bob');
      expect(lifted?.lift).toEqual(act('bob', '2026-03-03T08:00:00.000Z'));
      expect(await lift('h', 'cid')).toEqual(lifted);
      expect(await lift('none')).toBeUndefined();
      expect(await retention.liftLegalHold('no id', act('bob', NOW))).toBeUndefined();
    });

    it('gives one of two that lift at once what it wrote, and the other the same', async () => {
      await add('h', { assembly: 'A-1' });
      const lifted = await Promise.all(['bob', 'cid', 'dan'].map((by) => lift('h', by)));
      expect(new Set(lifted.map((hold) => hold?.lift?.signature.by)).size).toBe(1);
    });

    it('lists them newest first, page by page, those in force or lifted alone where asked', async () => {
      const { retention } = bench();
      await add('a', { assembly: 'A-1' }, '2026-03-02T08:00:00.000Z');
      await add('b', { assembly: 'A-1' }, '2026-03-02T09:00:00.000Z');
      await add('c', { assembly: 'A-1' }, '2026-03-02T10:00:00.000Z');
      await lift('b');
      const read = async (state?: 'in-force' | 'lifted', limit = 2): Promise<string[][]> => {
        const pages: string[][] = [];
        for (let cursor: string | null = null; ;) {
          const { items, next } = await retention.legalHolds(state, { limit, cursor });
          pages.push(items.map(({ reference }) => reference));
          if (next === null) return pages;
          cursor = next;
        }
      };
      expect(await read()).toEqual([['matter c', 'matter b'], ['matter a']]);
      expect(await read('in-force', 1)).toEqual([['matter c'], ['matter a']]);
      expect(await read('lifted')).toEqual([['matter b']]);
      await expect(retention.legalHolds(undefined, { limit: 1, cursor: 'made up' })).rejects.toThrow(RangeError);
    });

    it('finds units whose time is over to the millisecond, and of customers that have a term alone', async () => {
      await assembly('A-1', 'Alder');
      await assembly('B-1', 'Birch');
      await left('A-1/1', ['2023-06-01T02:00:00+02:00']);
      await left('A-1/2', ['2023-06-01T00:00:00.001Z']);
      await left('B-1/1', ['2001-01-01T00:00:00Z']);
      expect(await due(3)).toEqual([
        {
          ...{ assembly: 'A-1', serial: '1', state: 'shipped', customer: 'Alder', keepYears: 3 },
          ...{ leftAt: '2023-06-01T00:00:00.000Z', keptUntil: '2026-06-01T00:00:00.000Z' },
        },
      ]);
      expect(await dueKeys(3, '2026-06-01T00:00:00.001Z')).toEqual(['A-1/1', 'A-1/2']);
      expect((await bench().retention.due({ terms: [], before: NOW }, PAGE)).items).toEqual([]);
    });

    it('counts whole years by the calendar, from a day that not every year has to the last of its month', async () => {
      await assembly('A-1', 'Alder');
      await left('A-1/1', ['2024-02-29T12:00:00Z']);
      const [unit] = await due(1);
      expect(unit?.keptUntil).toBe('2025-02-28T12:00:00.000Z');
      expect((await due(2))[0]?.keptUntil).toBe('2026-02-28T12:00:00.000Z');
    });

    it('counts from the last time that a unit left, and leaves out what is back and what never left', async () => {
      await assembly('A-1', 'Alder');
      await left('A-1/1', ['2020-01-01T00:00:00Z', '2024-01-01T00:00:00Z', '2022-01-01T00:00:00Z']);
      await left('A-1/2', ['2001-01-01T00:00:00Z'], 'in-house');
      await left('A-1/3', []);
      expect((await due(1)).map(({ serial, leftAt }) => [serial, leftAt])).toEqual([['1', '2024-01-01T00:00:00.000Z']]);
      expect(await dueKeys(3)).toEqual([]);
    });

    it('does not count from a shipment that was annulled', async () => {
      await assembly('A-1', 'Alder');
      await left('A-1/1', ['2020-01-01T00:00:00Z', '2025-01-01T00:00:00Z']);
      const event = { source: '/stations/out', id: 'A-1/1 2' };
      await bench().append('A-1/1', 1, { type: 'heatbook.entry.annulled.v1', time: '2025-02-01T00:00:00Z', event });
      expect((await due(2)).map(({ leftAt }) => leftAt)).toEqual(['2020-01-01T00:00:00.000Z']);
    });

    it('leaves out what a legal hold is over until it is lifted', async () => {
      await assembly('A-1', 'Alder');
      await assembly('A-2', 'Alder');
      for (const key of ['A-1/1', 'A-1/2', 'A-2/1']) await left(key, ['2001-01-01T00:00:00Z']);
      await add('unit', { unit: { assembly: 'A-1', serial: '1' } });
      expect(await dueKeys(1)).toEqual(['A-1/2', 'A-2/1']);
      await add('assembly', { assembly: 'A-1' });
      expect(await dueKeys(1)).toEqual(['A-2/1']);
      await add('customer', { customer: 'Alder' });
      await add('other', { customer: 'Birch' });
      expect(await dueKeys(1)).toEqual([]);
      await lift('customer');
      await lift('assembly');
      expect(await dueKeys(1)).toEqual(['A-1/2', 'A-2/1']);
      await lift('unit');
      expect(await dueKeys(1)).toEqual(['A-1/1', 'A-1/2', 'A-2/1']);
    });

    it('pages by key', async () => {
      await assembly('A-1', 'Alder');
      for (const serial of ['1', '10', '2']) await left(`A-1/${serial}`, ['2001-01-01T00:00:00Z']);
      const query = { terms: [{ customer: 'Alder', keepYears: 1 }], before: NOW };
      const first = await bench().retention.due(query, { limit: 2, cursor: null });
      const second = await bench().retention.due(query, { limit: 2, cursor: first.next });
      expect([first, second].map(({ items }) => items.map(({ serial }) => serial))).toEqual([['1', '10'], ['2']]);
      expect(second.next).toBeNull();
      await expect(bench().retention.due(query, { limit: 2, cursor: 'made up' })).rejects.toThrow(RangeError);
    });
  });
}
