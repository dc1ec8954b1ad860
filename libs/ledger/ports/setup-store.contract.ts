import { assemblyDesign, partData } from './book-samples.contract.js';
import { Seal } from './seal.js';
import { StoredRevision } from './setup-store.js';
import { MakeStores, useBench } from './use-bench.contract.js';

/** What every keeper of setup data must do. `make` gives a book of its own each time; it may have revisions already. */
export function describeSetupStore(name: string, make: MakeStores, seal: Seal): void {
  describe(`setup store: ${name}`, () => {
    const bench = useBench(make, seal);

    /** Version of the newest revision that a new book has. */
    const start = async (): Promise<number> => (await bench().setup.revisionsAfter(0)).at(-1)?.version ?? 0;

    it('keeps every revision, counted per record, with who and when', async () => {
      const { setup } = bench();
      const from = await start();
      const first = await setup.revise('part', 'P-1', partData(17), 'admin');
      const second = await setup.revise('part', 'P-1', partData(19), 'quality');
      await setup.revise('part', 'P-2', partData(17), 'admin');
      const revisions = await setup.revisionsAfter(from);
      expect(
        revisions.map(({ kind, name: record, revision, body, by }) => ({ kind, name: record, revision, body, by })),
      ).toEqual([
        { kind: 'part', name: 'P-1', revision: 1, body: partData(17), by: 'admin' },
        { kind: 'part', name: 'P-1', revision: 2, body: partData(19), by: 'quality' },
        { kind: 'part', name: 'P-2', revision: 1, body: partData(17), by: 'admin' },
      ]);
      expect(revisions.slice(0, 2)).toEqual([first, second]);
      expect(first.at).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/);
    });

    it('keeps the revision where the body is the same, whatever the order of its members', async () => {
      const { setup } = bench();
      const body = assemblyDesign('Northlight');
      const first = await setup.revise('assembly', 'BRD-1', body, 'admin');
      const turned = {
        sites: [],
        assemblyReflows: { bottom: 2, top: 1 },
        leadFree: true,
        description: 'Carrier board',
      };
      expect(await setup.revise('assembly', 'BRD-1', { ...turned, customer: 'Northlight' }, 'quality')).toEqual(first);
      const next = await setup.revise('part', 'P-1', partData(17), 'admin');
      expect(next.version).toBe(first.version + 1);
    });

    it('takes another order of a list for another body, and an older body for a new revision', async () => {
      const { setup } = bench();
      const qualification = (skill: 'braid' | 'vacuum') => ({ skill, validUntil: '2027-01-01T00:00:00Z' });
      const one = { qualifications: [qualification('braid'), qualification('vacuum')] };
      const other = { qualifications: [qualification('vacuum'), qualification('braid')] };
      const revisions: StoredRevision[] = [];
      for (const body of [one, other, one]) revisions.push(await setup.revise('operator', 'op-1', body, 'admin'));
      expect(revisions.map(({ revision }) => revision)).toEqual([1, 2, 3]);
    });

    it('tells records of one name apart by their kind', async () => {
      const { setup } = bench();
      await setup.revise('part', 'X-1', partData(17), 'admin');
      const station = await setup.revise('station', 'X-1', { kind: 'rework' }, 'admin');
      expect(station).toMatchObject({ kind: 'station', name: 'X-1', revision: 1, body: { kind: 'rework' } });
    });

    it('numbers all revisions in one row and gives those after a version in order', async () => {
      const { setup } = bench();
      const from = await start();
      await setup.revise('part', 'P-1', partData(17), 'admin');
      await setup.revise('station', 'S-1', { kind: 'rework' }, 'admin');
      await setup.revise('operator', 'op-1', { qualifications: [] }, 'admin');
      await setup.revise('part', 'P-1', partData(18), 'admin');
      const versions = async (after: number) => (await setup.revisionsAfter(after)).map(({ version }) => version);
      expect(await versions(from)).toEqual([1, 2, 3, 4].map((place) => from + place));
      expect(await versions(from + 2)).toEqual([from + 3, from + 4]);
      expect(await versions(from + 4)).toEqual([]);
    });

    it('gives revisions of one record that come at once distinct, consecutive numbers', async () => {
      const { setup } = bench();
      const from = await start();
      const lengths = [10, 11, 12, 13, 14, 15, 16, 17];
      const made = await Promise.all(
        lengths.map((lengthMm) => setup.revise('part', 'P-1', partData(lengthMm), 'admin')),
      );
      expect(made.map(({ revision }) => revision).sort((a, b) => a - b)).toEqual([1, 2, 3, 4, 5, 6, 7, 8]);
      const kept = await setup.revisionsAfter(from);
      expect(kept.map(({ revision, version }) => [revision, version - from])).toEqual(
        lengths.map((_, index) => [index + 1, index + 1]),
      );
      expect(kept).toEqual([...made].sort((a, b) => a.version - b.version));
    });

    it('makes one revision of equal bodies that come at once', async () => {
      const { setup } = bench();
      const made = await Promise.all([1, 2, 3, 4].map(() => setup.revise('part', 'P-1', partData(17), 'admin')));
      expect(new Set(made.map(({ version }) => version)).size).toBe(1);
    });

    it('never shows a version before the ones below it', async () => {
      const { setup } = bench();
      const from = await start();
      const revising = ['P-1', 'P-2', 'P-3'].map(async (part) => {
        for (let lengthMm = 10; lengthMm < 15; lengthMm += 1)
          await setup.revise('part', part, partData(lengthMm), 'admin');
      });
      const seen: number[] = [];
      while (seen.length < 15) {
        seen.push(...(await setup.revisionsAfter(seen.at(-1) ?? from)).map(({ version }) => version));
      }
      await Promise.all(revising);
      expect(seen).toEqual(Array.from({ length: 15 }, (_, index) => from + index + 1));
    });

    it('keeps its bodies from later changes by the caller', async () => {
      const { setup } = bench();
      const from = await start();
      const qualifications = [{ skill: 'braid' as const, validUntil: '2027-01-01T00:00:00Z' }];
      await setup.revise('operator', 'op-1', { qualifications }, 'admin');
      qualifications.pop();
      const [kept] = await setup.revisionsAfter(from);
      expect(kept?.body).toEqual({ qualifications: [{ skill: 'braid', validUntil: '2027-01-01T00:00:00Z' }] });
    });
  });
}
