import { MemoryArchiveStore } from '../memory/memory-archive-store.js';
import { Page, UnitRow } from '../ports/read-store.js';
import { MOST_UNFINISHED, MOST_UNITS } from './archive-bounds.js';
import { ArchiveRecord } from './archive-record.js';
import { ArchiveWish, startArchive } from './start-archive.js';

const OWNER = { name: 'ann', via: 'session', customer: null } as const;

function house(serials: readonly string[]) {
  const archives = new MemoryArchiveStore();
  let made = 0;
  const reads = {
    units: ({ assembly }: { assembly?: string }, { limit, cursor }: { limit: number; cursor: string | null }) => {
      const from = Number(cursor ?? 0);
      const rows = assembly === 'BRD-1' ? serials.slice(from, from + limit) : [];
      const items = rows.map((serial) => ({ assembly: 'BRD-1', serial }) as UnitRow);
      const page: Page<UnitRow> = { items, next: from + limit < serials.length ? String(from + limit) : null };
      return Promise.resolve(page);
    },
  };
  const deps = {
    archives,
    reads,
    clock: { now: () => '2030-01-08T10:00:00.000Z' },
    newId: () => `id-${String(++made)}`,
  };
  const start = (over: Partial<ArchiveWish>) =>
    startArchive(deps, { owner: OWNER, units: [], formats: [], since: [], ...over });
  const started = async (over: Partial<ArchiveWish>): Promise<ArchiveRecord> => {
    const record = await start(over);
    if (typeof record === 'string') throw new Error(record);
    return record;
  };
  return { archives, start, started };
}

describe('asking for an archive', () => {
  it('takes units by name in one order, each once, and json with whatever else', async () => {
    const { archives, started } = house([]);
    const units = [
      { assembly: 'B', serial: '1' },
      { assembly: 'A', serial: '2' },
      { assembly: 'B', serial: '1' },
      { assembly: 'A', serial: '10' },
    ];
    const { id, ...record } = await started({ units, formats: ['pdf', 'csv', 'pdf'], since: [9, 7, 9] });
    expect(record).toMatchObject({ state: 'waiting', wanted: 3, formats: ['csv', 'json', 'pdf'], since: [7, 9] });
    expect((await archives.units(id, 0, 10)).map(({ path }) => path)).toEqual(['units/A/10', 'units/A/2', 'units/B/1']);
  });

  it('takes every unit of an assembly that is to be seen, over pages', async () => {
    const serials = Array.from({ length: 1_201 }, (_, n) => String(n).padStart(4, '0'));
    const { archives, start, started } = house(serials);
    const { id, wanted } = await started({ units: { assembly: 'BRD-1' } });
    expect(wanted).toBe(1_201);
    expect((await archives.units(id, 1_200, 10)).map(({ serial }) => serial)).toEqual(['1200']);
    expect(await start({ units: { assembly: 'BRD-2' } })).toBe('no-units');
  });

  it('refuses more units than an archive takes, and more archives than may wait', async () => {
    const most = Array.from({ length: MOST_UNITS + 1 }, (_, n) => String(n));
    const { start } = house(most);
    expect(await start({ units: { assembly: 'BRD-1' } })).toBe('too-many-units');
    expect(await start({ units: most.map((serial) => ({ assembly: 'X', serial })) })).toBe('too-many-units');
    const one = { units: [{ assembly: 'X', serial: '1' }] };
    for (let n = 0; n < MOST_UNFINISHED; n += 1) expect(typeof (await start(one))).toBe('object');
    expect(await start(one)).toBe('unfinished');
  });
});
