import { ArchiveChunk, ArchivePart, ArchiveRecord } from '../archives/archive-record.js';
import { ArchiveClaim, ArchiveLost, ArchiveStep, ArchiveStore } from './archive-store.js';

const AT = '2026-03-02T08:00:00.000Z';
const LATER = '2026-03-02T08:01:00.000Z';
const MUCH_LATER = '2026-03-09T08:00:00.000Z';
const EARLIER = '2026-03-02T07:00:00.000Z';
const ROOMY = { unfinished: 9, kept: 9, bytes: 1e9 };
const PAGE = { limit: 10, cursor: null };
/** Nothing counts as tried or seen long ago, and everything does. */
const FRESH_ONLY = { triedBefore: EARLIER, seenBefore: EARLIER };
const ANY = { triedBefore: MUCH_LATER, seenBefore: MUCH_LATER };

interface ArchiveBench {
  readonly archives: ArchiveStore;
  close(): Promise<void>;
}

/** What every keeper of archives must do. `make` gives one without any each time. */
export function describeArchiveStore(name: string, make: () => Promise<ArchiveBench>): void {
  describe(`archive store: ${name}`, () => {
    let bench: ArchiveBench;
    let archives: ArchiveStore;
    beforeEach(async () => {
      bench = await make();
      archives = bench.archives;
    });
    afterEach(() => bench.close());

    const ask = async (n: number, over: Partial<ArchiveRecord> = {}, serials = ['0001', '0002']) => {
      const record = archive(n, { wanted: serials.length, ...over });
      const units = serials.map((serial) => ({ assembly: 'BRD-1', serial, path: `units/BRD-1/${serial}` }));
      expect(await archives.add(record, units, ROOMY)).toBe('added');
      return record;
    };
    const claimed = async (at = AT, before = FRESH_ONLY): Promise<ArchiveClaim> => {
      const taken = await archives.claim(at, before);
      if (taken === undefined) throw new Error('nothing was to be claimed');
      return taken.claim;
    };

    it('keeps a request as it was given, with its units in order', async () => {
      const record = await ask(1, { owner: { name: 'cora', via: 'session', customer: 'Alder' }, since: [7, 9] });
      expect(await archives.get(record.id)).toEqual(record);
      expect(await archives.units(record.id, 0, 10)).toEqual([
        { ...UNSETTLED, place: 0, serial: '0001', path: 'units/BRD-1/0001' },
        { ...UNSETTLED, place: 1, serial: '0002', path: 'units/BRD-1/0002' },
      ]);
      expect((await archives.units(record.id, 1, 10)).map(({ serial }) => serial)).toEqual(['0002']);
      expect(await archives.units(record.id, 0, 1)).toHaveLength(1);
      expect(await archives.get('none')).toBeUndefined();
    });

    it('lists the newest first, page by page, of everybody or of one owner', async () => {
      const bea = { name: 'bea', via: 'session', customer: null } as const;
      await ask(1, { requestedAt: EARLIER });
      await ask(2, { requestedAt: AT, owner: bea });
      await ask(3, { requestedAt: LATER, owner: { ...bea, via: 'key' } });
      await ask(4, { requestedAt: LATER, owner: { ...bea, customer: 'Alder' } });
      const ids = async (filter: Parameters<ArchiveStore['list']>[0]) =>
        (await archives.list(filter, PAGE)).items.map(({ id }) => id);
      expect(await ids(null)).toEqual([4, 3, 2, 1].map(idOf));
      expect(await ids(bea)).toEqual([idOf(2)]);
      expect(await ids({ ...bea, customer: 'Alder' })).toEqual([idOf(4)]);
      const first = await archives.list(null, { limit: 3, cursor: null });
      expect((await archives.list(null, { limit: 3, cursor: first.next })).items.map(({ id }) => id)).toEqual([
        idOf(1),
      ]);
      await expect(archives.list(null, { limit: 3, cursor: 'no cursor' })).rejects.toThrow(RangeError);
    });

    it('keeps no more than there may be, also of requests that come at once', async () => {
      const add = (n: number, over: Partial<ArchiveRecord> = {}, bounds = ROOMY) =>
        archives.add(archive(n, over), [], bounds);
      const bound = { ...ROOMY, unfinished: 2 };
      const answers = await Promise.all([1, 2, 3, 4].map((n) => add(n, {}, bound)));
      expect(answers.sort()).toEqual(['added', 'added', 'unfinished', 'unfinished']);
      expect(await add(5, { owner: { name: 'bea', via: 'session', customer: null } }, bound)).toBe('added');
      expect(await add(6, {}, { ...ROOMY, kept: 2 })).toBe('kept');
      expect((await archives.list(null, PAGE)).items).toHaveLength(3);
    });

    it('counts the bytes of everybody’s archives, until they are removed', async () => {
      const { id } = await ask(1, {}, ['0001']);
      await archives.enter(await claimed(), step(0, 0, 60), AT);
      expect(await archives.add(archive(2), [], { ...ROOMY, bytes: 60 })).toBe('bytes');
      await archives.remove(id);
      expect(await archives.add(archive(2), [], { ...ROOMY, bytes: 60 })).toBe('added');
    });

    it('hands an archive to one worker at a time, the oldest first', async () => {
      await ask(1, { requestedAt: AT });
      await ask(2, { requestedAt: EARLIER });
      expect(await claimed()).toEqual({ id: idOf(2), number: 1 });
      const rest = await Promise.all([1, 2, 3].map(() => archives.claim(AT, FRESH_ONLY)));
      expect(rest.flatMap((taken) => taken?.record.id ?? [])).toEqual([idOf(1)]);
      expect(await archives.get(idOf(1))).toMatchObject({ state: 'running', attempts: 1, seenAt: AT });
    });

    it('gives an archive whose worker has fallen silent to another, whom the first can no longer disturb', async () => {
      await ask(1);
      const first = await claimed();
      await archives.keep(first, [chunk(0, 0)], AT);
      expect(await archives.claim(LATER, { triedBefore: LATER, seenBefore: AT })).toBeUndefined();
      const second = await claimed(LATER, { triedBefore: EARLIER, seenBefore: LATER });
      expect(second).toEqual({ id: first.id, number: 2 });
      expect([await archives.seen(first, LATER), await archives.seen(second, LATER)]).toEqual([false, true]);
      await expect(archives.keep(first, [chunk(0, 1)], LATER)).rejects.toThrow(ArchiveLost);
      await expect(archives.enter(first, step(0, 0, 60), LATER)).rejects.toThrow(ArchiveLost);
      await archives.release(first);
      await archives.failed(first, 'too late', LATER, MUCH_LATER);
      // What the first one kept of a unit that was not settled is gone, so that the second can write it.
      expect(await archives.chunk(first.id, 0, 0)).toBeUndefined();
      await archives.keep(second, [chunk(0, 0)], LATER);
      await archives.enter(second, step(0, 0, 60, []), LATER);
      expect(await archives.get(first.id)).toMatchObject({ state: 'running', done: 1, failure: null, attempts: 0 });
    });

    it('enters a unit with its files as a whole', async () => {
      const { id } = await ask(1);
      const claim = await claimed();
      await archives.enter(claim, step(0, 0, 60), LATER);
      const missing = { place: 1, outcome: 'missing', count: null, headHash: null } as const;
      await archives.enter(claim, { unit: missing, parts: [], chunks: [], bytes: 60 }, LATER);
      expect(await archives.get(id)).toMatchObject({
        ...{ done: 2, missing: 1, entries: 3, parts: 1, contentBytes: 40, bytes: 60, seenAt: LATER },
      });
      expect(await archives.units(id, 0, 10)).toMatchObject([
        { outcome: 'written', count: 3, headHash: HASH },
        { outcome: 'missing', count: null, headHash: null },
      ]);
      expect((await archives.units(id, 0, 10, 'missing')).map(({ serial }) => serial)).toEqual(['0002']);
      expect(await archives.parts(id, 0, 10)).toEqual([part(0)]);
      expect(Buffer.from((await archives.chunk(id, 0, 0)) ?? [])).toEqual(Buffer.from(chunk(0, 0).bytes));
    });

    it('enters nothing of a unit out of turn, or whose files are not all fit', async () => {
      const { id } = await ask(1);
      const claim = await claimed();
      await expect(archives.enter(claim, step(1, 0, 60), AT)).rejects.toThrow(ArchiveLost);
      const twice = { ...step(0, 0, 60), parts: [part(0), { ...part(1), name: part(0).name.toUpperCase() }] };
      await expect(archives.enter(claim, twice, AT)).rejects.toThrow();
      expect(await archives.get(id)).toMatchObject({ done: 0, parts: 0, bytes: 0 });
      expect(await archives.parts(id, 0, 10)).toEqual([]);
    });

    it('finds parts by number, by place and by name in small letters', async () => {
      const { id } = await ask(1);
      const claim = await claimed();
      await archives.enter(claim, step(0, 0, 60), AT);
      await archives.enter(claim, step(1, 1, 120), AT);
      expect((await archives.parts(id, 1, 10)).map(({ number }) => number)).toEqual([1]);
      expect(await archives.parts(id, 0, 1)).toEqual([part(0)]);
      expect(await archives.partAt(id, 0)).toEqual(part(0));
      expect(await archives.partAt(id, 99)).toEqual(part(0));
      expect(await archives.partAt(id, 100)).toEqual(part(1));
      expect(await archives.partFolded(id, part(1).name.toLowerCase())).toEqual(part(1));
      expect(await archives.partFolded(id, 'units/none')).toBeUndefined();
    });

    it('is done once every unit is settled, and takes nothing more', async () => {
      const { id } = await ask(1, {}, ['0001']);
      const claim = await claimed();
      const end = { parts: [part(1)], chunks: [chunk(1, 0)], bytes: 200, manifestHash: HASH, expiresAt: MUCH_LATER };
      await expect(archives.finish(claim, end, AT)).rejects.toThrow(ArchiveLost);
      await archives.enter(claim, step(0, 0, 60), AT);
      await archives.finish(claim, end, LATER);
      expect(await archives.get(id)).toMatchObject({
        ...{ state: 'done', bytes: 200, parts: 2, contentBytes: 80, manifestHash: HASH },
        ...{ finishedAt: LATER, expiresAt: MUCH_LATER },
      });
      await expect(archives.finish(claim, end, LATER)).rejects.toThrow(ArchiveLost);
      expect(await archives.claim(LATER, ANY)).toBeUndefined();
      expect(await archives.cancel(id, LATER, MUCH_LATER)).toBe('over');
    });

    it('tries again after a failure, at once after a release, and not after the last', async () => {
      const { id } = await ask(1);
      await archives.release(await claimed());
      expect(await archives.get(id)).toMatchObject({ state: 'waiting', attempts: 0 });
      await archives.failed(await claimed(), 'first', LATER);
      expect(await archives.get(id)).toMatchObject({ state: 'waiting', attempts: 1, failure: 'first' });
      expect(await archives.claim(LATER, { triedBefore: LATER, seenBefore: LATER })).toBeUndefined();
      await archives.failed(await claimed(LATER, ANY), 'second', LATER, MUCH_LATER);
      expect(await archives.get(id)).toMatchObject({
        ...{ state: 'failed', attempts: 2, failure: 'second', finishedAt: LATER, expiresAt: MUCH_LATER },
      });
      expect(await archives.claim(MUCH_LATER, ANY)).toBeUndefined();
    });

    it('takes an archive that is cancelled away from its worker, and gives back its space', async () => {
      const { id } = await ask(1);
      const claim = await claimed();
      await archives.enter(claim, step(0, 0, 60), AT);
      expect(await archives.clear(10)).toBe(0);
      expect(await archives.cancel(id, LATER, MUCH_LATER)).toBe('cancelled');
      await expect(archives.keep(claim, [chunk(1, 0)], LATER)).rejects.toThrow(ArchiveLost);
      expect(await archives.clear(10)).toBe(1);
      expect(await archives.clear(10)).toBe(0);
      expect(await archives.get(id)).toMatchObject({ state: 'cancelled', expiresAt: MUCH_LATER });
      expect(await archives.cancel('none', LATER, MUCH_LATER)).toBe('not-found');
    });

    it('removes what has expired or is removed, its bytes a few at a time', async () => {
      const { id } = await ask(1, {}, ['0001']);
      const claim = await claimed();
      await archives.keep(claim, [chunk(0, 0), chunk(0, 1)], AT);
      await archives.enter(claim, { ...step(0, 0, 60), chunks: [chunk(0, 2)] }, AT);
      const end = { parts: [], chunks: [], bytes: 200, manifestHash: HASH, expiresAt: LATER };
      await archives.finish(claim, end, AT);
      expect(await archives.removeExpired(AT)).toBe(0);
      expect(await archives.removeExpired(LATER)).toBe(1);
      expect([await archives.get(id), (await archives.list(null, PAGE)).items]).toEqual([undefined, []]);
      expect([await archives.clear(2), await archives.clear(2), await archives.clear(2)]).toEqual([2, 1, 0]);
      expect(await archives.parts(id, 0, 10)).toEqual([]);
      expect(await archives.units(id, 0, 10)).toEqual([]);
      const other = await ask(2);
      await archives.remove(other.id);
      expect([await archives.get(other.id), await archives.claim(LATER, ANY)]).toEqual([undefined, undefined]);
    });
  });
}

const HASH = 'a'.repeat(64);
const UNSETTLED = { assembly: 'BRD-1', outcome: null, count: null, headHash: null };

function idOf(n: number): string {
  return `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`;
}

function archive(n: number, over: Partial<ArchiveRecord> = {}): ArchiveRecord {
  return {
    ...{ id: idOf(n), owner: { name: 'ann', via: 'session', customer: null }, formats: ['csv', 'json'], since: [] },
    ...{ state: 'waiting', wanted: 2, done: 0, missing: 0, entries: 0, parts: 0, contentBytes: 0, bytes: 0 },
    ...{ manifestHash: null, failure: null, attempts: 0, requestedAt: AT, seenAt: AT, finishedAt: null },
    expiresAt: null,
    ...over,
  };
}

function part(number: number): ArchivePart {
  const name = `units/BRD-1/000${String(number)}.audit.json`;
  return { number, name, crc32: 4_000_000_000, bytes: 40, packedBytes: 20, offset: number * 100, sha256: HASH };
}

function chunk(partNumber: number, number: number): ArchiveChunk {
  return { part: partNumber, number, bytes: Uint8Array.of(partNumber, number, 255) };
}

function step(place: number, partNumber: number, bytes: number, chunks = [chunk(partNumber, 0)]): ArchiveStep {
  const unit = { place, outcome: 'written', count: 3, headHash: HASH } as const;
  return { unit, parts: [part(partNumber)], chunks, bytes };
}
