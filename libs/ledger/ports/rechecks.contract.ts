import { HOUSE_LIMITS } from '../../domain/limits/house-limits.js';
import { LimitRule } from '../../domain/limits/limit-rule.js';
import { deviceKey } from '../../domain/subject/subject.js';
import { newRecheck } from '../limits/limit-recheck.js';
import { HOUSE } from '../setup/house-setup.js';
import { BookBench, NO_CHANGES } from './book-bench.contract.js';
import { deviceState, unitState } from './book-samples.contract.js';
import { BookTransaction, SubjectState } from './book-store.js';

const AFTER_ALL = '2100-01-01T00:00:00Z';

/** How far judging anew for revisions of limits has come, and the pages of what is in the house. */
export function describeRechecks(bench: () => BookBench): void {
  const revise = (name: string, given: Partial<LimitRule> = {}, by = 'ann') =>
    bench().setup.revise('limit', name, { ...rule(), ...given }, by);
  const due = async (now = AFTER_ALL) =>
    (await bench().book.rechecksDue(now)).map(({ limit, revision }) => `${limit}@${String(revision)}`);

  it('are due for revisions that have come into force, in that order, and not for the defaults of a new book', async () => {
    await revise('site-reworks', {}, HOUSE);
    await revise('late', { allowed: 1, effectiveFrom: '2099-02-01T00:00:00Z' });
    await revise('site-reworks', { allowed: 2 });
    await revise('site-reworks', { allowed: 1, effectiveFrom: '2099-01-01T00:00:00+02:00' });
    expect(await due('2098-12-31T21:59:59Z')).toEqual(['site-reworks@2']);
    expect(await due('2098-12-31T22:00:00Z')).toEqual(['site-reworks@2', 'site-reworks@3']);
    expect(await due()).toEqual(['site-reworks@2', 'site-reworks@3', 'late@1']);
  });

  it('begin from the beginning', async () => {
    const { at } = await revise('own', { effectiveFrom: '1999-01-01T00:00:00Z' });
    const [found] = await bench().book.rechecksDue(AFTER_ALL);
    if (found === undefined) throw new Error('nothing is due');
    expect(found).toEqual({ ...newRecheck('own', 1, found.effectiveAt) });
    // A revision is in force from when it was entered, whatever it says of before.
    expect(Date.parse(found.effectiveAt)).toBe(Date.parse(at));
  });

  it('are kept with what was changed, or not at all', async () => {
    await revise('own');
    const [found] = await bench().book.rechecksDue(AFTER_ALL);
    if (found === undefined) throw new Error('nothing is due');
    const progress = { state: 'running', version: 7, after: 'BRD-1/0001', subjects: 3, holdsRaised: 1 } as const;
    const recheck = { ...found, ...progress, startedAt: '2026-03-02T08:30:00.000Z' };
    const failing = bench().book.exclusively(async (tx) => {
      await tx.write({ ...NO_CHANGES, recheck });
      throw new Error('on second thoughts');
    });
    await expect(failing).rejects.toThrow('on second thoughts');
    expect(await bench().read.limitRechecks('own')).toEqual([found]);
    await bench().write({ recheck });
    expect(await bench().read.limitRechecks('own')).toEqual([recheck]);
    expect(await bench().book.exclusively((tx) => tx.limitRecheck('own', 1))).toEqual(recheck);
    expect(await due()).toEqual(['own@1']);
    await bench().write({ recheck: { ...recheck, state: 'done', phase: 'device', after: null } });
    expect(await due()).toEqual([]);
  });

  it('are listed newest first, of one limit or of all', async () => {
    await revise('b');
    await revise('a');
    await revise('b', { allowed: 1 });
    await due();
    const names = async (limit?: string) =>
      (await bench().read.limitRechecks(limit)).map((one) => `${one.limit}@${String(one.revision)}`);
    expect(await names('b')).toEqual(['b@2', 'b@1']);
    expect(await names()).toEqual(['a@1', 'b@2', 'b@1']);
    expect(await names('none-such')).toEqual([]);
    expect(await bench().book.exclusively((tx) => tx.limitRecheck('none-such', 1))).toBeUndefined();
  });

  it('find what is in the house, page by page', async () => {
    await fill(bench());
    const units = ['BRD-1/0001', 'BRD-1/0002', 'BRD-1/0005'];
    const keys = (kind: 'unit' | 'device', after: string | null, limit: number) =>
      bench().book.exclusively((tx) => tx.openKeys(kind, after, limit));
    expect(await keys('unit', null, 10)).toEqual(units);
    expect(await keys('unit', null, 2)).toEqual(units.slice(0, 2));
    expect(await keys('unit', 'BRD-1/0002', 2)).toEqual(units.slice(2));
    expect(await keys('device', null, 10)).toEqual(['devices/D1']);
    const records = await bench().read.openSubjects('unit', 'BRD-1/0001', 10);
    expect(records.map(({ key, state }) => [key, state?.kind])).toEqual(units.slice(1).map((key) => [key, 'unit']));
    expect(await bench().read.openSubjects('device', 'devices/D1', 10)).toEqual([]);
  });
}

function rule(): LimitRule {
  const found = HOUSE_LIMITS.get('site-reworks');
  if (found === undefined) throw new Error('the house has no such limit');
  return found;
}

/** Units in every state, and devices. */
async function fill(bench: BookBench): Promise<void> {
  const statuses = ['in-house', 'expected', 'shipped', 'scrapped', 'in-house'] as const;
  await bench.book.exclusively(async (tx) => {
    for (const [n, status] of statuses.entries()) {
      const serial = `000${String(n + 1)}`;
      await put(bench, tx, `BRD-1/${serial}`, { kind: 'unit', state: unitState('BRD-1', serial, status) });
    }
    for (const [device, status] of [
      ['D1', 'loose'],
      ['D2', 'mounted'],
      ['D3', 'scrapped'],
    ] as const) {
      await put(bench, tx, deviceKey(device), { kind: 'device', state: { ...deviceState(device), status } });
    }
  });
}

async function put(bench: BookBench, tx: BookTransaction, key: string, state: SubjectState): Promise<void> {
  const { subject, entries } = bench.grown({ ...(await bench.loadOne(tx, key)), state });
  await tx.write({ ...NO_CHANGES, subjects: [subject], entries });
}
