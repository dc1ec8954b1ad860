import { AccessFilter, AccessRecord } from './access-store.js';
import { assemblyDesign } from './book-samples.contract.js';
import { readPages } from './read-pages.contract.js';
import { Seal } from './seal.js';
import { MakeStores, useBench } from './use-bench.contract.js';

const PAGE = { limit: 50, cursor: null };

function refusal(second: number, differs: Partial<AccessRecord> = {}): AccessRecord {
  return {
    at: `2026-03-02T08:30:${String(second).padStart(2, '0')}.250Z`,
    kind: 'refused',
    caller: 'bench-1',
    roles: ['station'],
    route: 'GET /v1/units/:assembly/:serial',
    subject: `BRD-1/${String(second)}`,
    outcome: 'not-allowed',
    ...differs,
  };
}

/** What every keeper of the access record must do. `make` gives an empty one each time. */
export function describeAccessStore(name: string, make: MakeStores, seal: Seal): void {
  describe(`access store: ${name}`, () => {
    const bench = useBench(make, seal);

    it('gives back what was put on record, newest first', async () => {
      const { access } = bench();
      const nobody = refusal(3, { caller: null, roles: [], route: null, subject: null, outcome: 'key-required' });
      await access.append([refusal(1), nobody]);
      await access.append([]);
      await access.append([refusal(2, { roles: ['quality', 'approver'] })]);
      expect(await access.list({}, PAGE)).toEqual({
        items: [nobody, refusal(2, { roles: ['quality', 'approver'] }), refusal(1)],
        next: null,
      });
    });

    it('finds records by time, kind and caller', async () => {
      const { access } = bench();
      const signIn = refusal(2, { kind: 'signed-in', caller: 'ann', outcome: 'done' });
      await access.append([refusal(1), signIn, refusal(3, { caller: 'ann' })]);
      const found = async (filter: AccessFilter): Promise<(string | null)[]> =>
        (await access.list(filter, PAGE)).items.map(({ subject }) => subject);
      expect(await found({ caller: 'ann' })).toEqual(['BRD-1/3', 'BRD-1/2']);
      expect(await found({ kind: 'refused', caller: 'ann' })).toEqual(['BRD-1/3']);
      expect(await found({ from: '2026-03-02T08:30:02.250Z', to: '2026-03-02T08:30:03.250Z' })).toEqual(['BRD-1/2']);
      expect(await found({ from: '2026-03-02T10:30:03+02:00' })).toEqual(['BRD-1/3']);
      expect(await found({ kind: 'key-issued' })).toEqual([]);
    });

    it('pages without gap or repetition while more is put on record, also within one moment', async () => {
      const { access } = bench();
      const many = [1, 2, 2, 2, 2, 3, 3].map((second, n) => refusal(second, { subject: String(n) }));
      await access.append(many);
      const pages = await readPages(
        (page) => access.list({}, page),
        () => access.append([refusal(9, { subject: 'later' })]),
      );
      const old = pages.filter(({ subject }) => subject !== 'later');
      expect(old.map(({ subject }) => subject)).toEqual(['6', '5', '4', '3', '2', '1', '0']);
      await expect(access.list({}, { limit: 2, cursor: 'no cursor' })).rejects.toThrow(RangeError);
    });

    it('has every setup change on record with its revision, and none that changed nothing', async () => {
      const { access, setup } = bench();
      await setup.revise('assembly', 'BRD-1', assemblyDesign('Northlight'), 'ann');
      await setup.revise('assembly', 'BRD-1', assemblyDesign('Northlight'), 'bob');
      await setup.revise('assembly', 'BRD-1', assemblyDesign('Eastfield'), 'bob');
      const { items } = await access.list({ kind: 'setup-changed' }, PAGE);
      expect(items.map(({ caller, subject, outcome }) => ({ caller, subject, outcome }))).toEqual([
        { caller: 'bob', subject: 'assembly BRD-1', outcome: 'revision 2' },
        { caller: 'ann', subject: 'assembly BRD-1', outcome: 'revision 1' },
      ]);
    });
  });
}
