import { Subject, subjectKey } from '../../libs/domain/subject/subject.js';
import { loadDemo } from '../../apps/cli/demo/load-demo.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import { workedHolds, workedParked, workedUnits, workedWarnings, WorkedBudget } from '../support/worked-units.js';

interface SubjectRow {
  readonly subject: Subject;
}
type BudgetRow = WorkedBudget;
type HoldRow = SubjectRow & { readonly reason: string };
type WarningRow = SubjectRow & { readonly code: string };

/** The demo's boards as docs/demo.md works them out by hand, against the product as it runs. */
describe('the demo shift, worked out by hand', () => {
  let shop: RunningHouse;

  beforeAll(async () => {
    shop = await runningHouse();
    await loadDemo(shop.house);
  });

  afterAll(async () => {
    await shop.close();
  });

  async function get<T>(path: string): Promise<T> {
    const { status, body } = await shop.call('GET', path);
    expect({ path, status }).toEqual({ path, status: 200 });
    return body as T;
  }

  async function items<T>(path: string): Promise<readonly T[]> {
    const found: T[] = [];
    for (let cursor: string | null = ''; cursor !== null;) {
      const page: { items: T[]; nextCursor: string | null } = await get(`${path}${cursor && `&cursor=${cursor}`}`);
      found.push(...page.items);
      cursor = page.nextCursor;
    }
    return found;
  }

  it.each(workedUnits)(
    '$assembly/$serial has spent what was worked out',
    async ({ assembly, serial, budgets, status }) => {
      const unit = await get<{ state: string; budgets: BudgetRow[] }>(`/v1/units/${assembly}/${serial}`);
      expect(unit.state).toBe(status);
      for (const expected of budgets) {
        const { subject, limit } = expected;
        const rows =
          subject.kind === 'device'
            ? (await get<{ budgets: BudgetRow[] }>(`/v1/devices/${subject.device}`)).budgets
            : unit.budgets;
        const row = rows.find((budget) => budget.limit === limit && subjectKey(budget.subject) === subjectKey(subject));
        expect({ subject, limit, ...row }).toMatchObject(expected);
      }
    },
  );

  it.each(workedUnits)('$assembly/$serial: its devices are where they should be', async ({ devices }) => {
    for (const { device, status, place } of devices) {
      const found = await get<{ status: string; place: { assembly: string; serial: string; refdes: string } | null }>(
        `/v1/devices/${device}`,
      );
      const where = found.place && `${found.place.assembly}/${found.place.serial}#${found.place.refdes}`;
      expect({ device, status: found.status, place: where }).toEqual({ device, status, place });
    }
  });

  it('holds exactly what was worked out', async () => {
    const rows = await items<HoldRow>('/v1/holds?state=open&limit=5');
    const keys = (holds: readonly HoldRow[]): string[] =>
      holds.map(({ reason, subject }) => `${reason} ${subjectKey(subject)}`).sort();
    expect(keys(rows)).toEqual(keys(workedHolds));
  });

  it('warns of exactly what was worked out', async () => {
    const rows: WarningRow[] = [];
    for (const { assembly, serial } of await items<{ assembly: string; serial: string }>('/v1/units?limit=100')) {
      rows.push(...(await get<{ warnings: WarningRow[] }>(`/v1/units/${assembly}/${serial}`)).warnings);
    }
    const keys = (warnings: readonly WarningRow[]): string[] =>
      warnings.map(({ code, subject }) => `${code} ${subjectKey(subject)}`).sort();
    expect(keys(rows)).toEqual(keys(workedWarnings));
  });

  it('has parked exactly what was worked out', async () => {
    const rows = await items<{ id: string; subject: string; reason: { code: string } }>('/v1/events/parked?limit=1');
    const parked = rows.map(({ id, subject, reason }) => ({ id, subject, code: reason.code }));
    expect(parked).toEqual(workedParked);
  });

  it('is not loaded twice', async () => {
    expect(await loadDemo(shop.house)).toBeUndefined();
  });
});
