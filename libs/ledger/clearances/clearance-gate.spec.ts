import { demoSetup } from '../../../apps/cli/demo/demo-setup.js';
import { BookHarness, memoryHarness } from '../../../test/support/book-harness.js';
import { PlannedStep } from '../../domain/clearance/clearance.js';
import { HoldSubject } from '../../domain/holds/hold-subject.js';
import { BookDeps } from '../fold/book-deps.js';
import { disposeHold } from '../holds/dispose-hold.js';
import { Decision } from '../holds/hold-record.js';
import { raiseHold } from '../holds/raise-hold.js';
import { ClearanceRecord, clearanceState } from './clearance-record.js';
import { ClearanceAnswer, ClearanceWish, grantClearance } from './grant-clearance.js';
import { lapseClearances } from './lapse-clearances.js';
import { returnClearance } from './return-clearance.js';

const UNIT = 'ZIB-PANEL-1/0001';
const OFF = { name: 'ZIB-PANEL-1-U1-OFF', revision: 'B' };
const ON = { name: 'ZIB-PANEL-1-U1-ON', revision: 'B' };
const BENCH = { kind: 'station', name: 'HOTGAS-1' } as const;
const quality = { name: 'q', named: 'a1', roles: ['quality', 'approver'], meaning: 'decided' } as const;

const REMOVAL: PlannedStep = { type: 'heatbook.device.removed.v1', refdes: 'U1', profile: OFF };
const TO_SCRAP: PlannedStep = { ...REMOVAL, fate: 'scrap' };
const DRESSING: PlannedStep = { type: 'heatbook.site.dressed.v1', refdes: 'U1', method: 'braid' };
const PLACEMENT: PlannedStep = { type: 'heatbook.device.placed.v1', refdes: 'U1', device: 'N1', profile: ON };
const TOUCH_UP: PlannedStep = { type: 'heatbook.site.heated.v1', refdes: 'U1', purpose: 'touch-up', profile: OFF };

function at(minute: number): string {
  return new Date(Date.UTC(2026, 3, 1, 6, minute)).toISOString();
}

describe('the gate', () => {
  let book: BookHarness;
  let posted = 0;

  beforeEach(async () => {
    book = await memoryHarness();
    for (const { kind, name, body } of demoSetup()) await book.setupStore.revise(kind, name, body, 'spec');
    await told('heatbook.unit.received.v1', 0, {
      devices: [{ refdes: 'U1', device: 'D1', priorExcursions: 1 }],
      sites: [{ refdes: 'U1', priorReworks: 0 }],
    });
    await told('heatbook.device.received.v1', 1, { part: 'P-BGA256', priorExcursions: 0 }, 'devices/N1');
  });

  afterEach(() => book.close());

  const then = (minute: number): BookDeps => ({ ...book.deps, clock: { now: () => at(minute) } });

  async function told(type: string, minute: number, data: object, subject = UNIT): Promise<void> {
    posted += 1;
    const source = '/stations/HOTGAS-1';
    await book.post([{ specversion: '1.0', type, source, id: `e${String(posted)}`, subject, time: at(minute), data }]);
  }

  const heated = (minute: number, clearance?: string): Promise<void> =>
    told('heatbook.site.heated.v1', minute, {
      ...{ refdes: 'U1', purpose: 'touch-up', profile: OFF, ...(clearance !== undefined && { clearance }) },
      heat: { startedAt: at(minute - 5), endedAt: at(minute), thermocouples: [] },
    });

  async function ask(minute: number, steps: readonly PlannedStep[], more: Partial<ClearanceWish> = {}) {
    const wish = { subject: UNIT, station: 'HOTGAS-1', operator: 'op-101', ttlSeconds: 3600, actor: BENCH, steps };
    const answer = await grantClearance(then(minute), { ...wish, ...more });
    if (answer === 'other-body') throw new Error('the key was used before');
    return answer;
  }

  async function granted(minute: number, steps: readonly PlannedStep[], more?: Partial<ClearanceWish>) {
    const answer = await ask(minute, steps, more);
    if ('refused' in answer) throw new Error(JSON.stringify(answer.refused.reasons));
    return answer.granted;
  }

  const reasons = (answer: ClearanceAnswer): readonly string[] =>
    'refused' in answer ? answer.refused.reasons.map(({ code }) => code) : [];

  const stored = async (id: string): Promise<ClearanceRecord> => {
    const found = await book.reads.clearance(id);
    if (found === undefined) throw new Error(`no clearance ${id}`);
    return found;
  };

  async function warned(): Promise<number> {
    await book.fold();
    const record = await book.reads.subject(UNIT);
    const warnings = record?.state?.kind === 'unit' ? record.state.state.warnings : [];
    return warnings.find(({ code }) => code === 'clearance-required')?.count ?? 0;
  }

  it('folds what was posted before it answers, and reserves removal to placement as one', async () => {
    const { spends, steps } = await granted(10, [REMOVAL, DRESSING, PLACEMENT]);
    expect(spends.map(({ limit, used, reserved, asked, allowed }) => [limit, used, reserved, asked, allowed])).toEqual([
      ['site-excursions', 1, 0, 3, 8],
      ['device-excursions', 1, 0, 1, 3],
      ['site-reworks', 0, 0, 1, 3],
      ['site-dressings', 0, 0, 1, 6],
      ['device-excursions', 0, 0, 1, 3],
    ]);
    expect(steps.map(({ device }) => device)).toEqual(['D1', null, 'N1']);
    expect((await book.reads.backlog()).pending).toBe(0);
    const [entry] = await book.reads.ledger(UNIT, { limit: 1, order: 'desc', afterSeq: null });
    expect(entry).toMatchObject({
      type: 'heatbook.clearance.granted.v1',
      actor: { kind: 'station', station: 'HOTGAS-1', operator: 'op-101' },
      effects: [{ kind: 'clearance-granted' }],
    });
  });

  it('counts used, reserved and asked together, and says how much of each and what would mend it', async () => {
    const first = await granted(10, [TOUCH_UP]);
    await granted(11, [TOUCH_UP]);
    expect(await ask(12, [TOUCH_UP])).toMatchObject({
      refused: {
        reasons: [
          {
            code: 'device-excursions',
            subject: { kind: 'device', device: 'D1' },
            ...{ limit: 'device-excursions', used: 1, reserved: 2, asked: 1, allowed: 3 },
            remedy: expect.stringContaining(first.id) as string,
          },
        ],
      },
    });
  });

  it('has no more to give of a device that nobody has told of yet than of any other', async () => {
    const reballing: PlannedStep = { type: 'heatbook.device.reballed.v1', ballAlloy: 'SAC305', ballDiameterMm: 0.5 };
    const loose = { subject: 'devices/X9' };
    for (const minute of [10, 11, 12]) await granted(minute, [reballing], loose);
    expect(reasons(await ask(13, [reballing], loose))).toEqual(['device-excursions']);
    expect(reasons(await ask(14, [TO_SCRAP, DRESSING, { ...PLACEMENT, device: 'X9' }]))).toEqual(['device-excursions']);
  });

  it('keeps used and reserved right as steps are used, given back and run out', async () => {
    const one = await granted(10, [TOUCH_UP]);
    const two = await granted(11, [TOUCH_UP]);
    await heated(20, one.id);
    // Two used, one reserved: as full as before.
    expect(reasons(await ask(21, [TOUCH_UP]))).toEqual(['device-excursions']);
    expect(clearanceState(await stored(one.id), at(21))).toBe('used');
    expect(await returnClearance(then(22), { id: two.id, subject: UNIT, actor: BENCH })).toMatchObject({ id: two.id });
    const three = await granted(23, [TOUCH_UP]);
    expect(reasons(await ask(82, [TOUCH_UP]))).toEqual(['device-excursions']);
    // No lapse is written yet, and none is needed.
    expect(await granted(84, [TOUCH_UP])).toMatchObject({ spends: [{}, { used: 2, reserved: 0, asked: 1 }] });
    expect(clearanceState(await stored(three.id), at(84))).toBe('lapsed');
    expect(await warned()).toBe(0);
  });

  it('answers a given back clearance as it is, and does not take back one that is used up', async () => {
    const { id } = await granted(10, [TOUCH_UP]);
    const give = (minute: number) => returnClearance(then(minute), { id, subject: UNIT, actor: BENCH });
    await heated(20, id);
    expect(await give(21)).toBe('all-used');
    const other = await granted(22, [TOUCH_UP]);
    const giveOther = (minute: number) => returnClearance(then(minute), { id: other.id, subject: UNIT, actor: BENCH });
    expect(await giveOther(23)).toMatchObject({ returnedAt: at(23) });
    expect(await giveOther(30)).toMatchObject({ returnedAt: at(23) });
  });

  it('writes each lapse once, also late, and not where the last step was posted in time', async () => {
    const used = await granted(10, [TOUCH_UP]);
    const left = await granted(11, [TOUCH_UP]);
    await heated(20, used.id);
    expect(await lapseClearances(then(60), at(60))).toBe(0);
    expect(await lapseClearances(then(500), at(500))).toBe(1);
    expect(await lapseClearances(then(501), at(501))).toBe(0);
    const entries = await book.reads.ledger(UNIT, { limit: 50, order: 'asc', afterSeq: null });
    const lapses = entries.filter(({ type }) => type === 'heatbook.clearance.lapsed.v1');
    expect(lapses).toMatchObject([{ time: at(71), recordedAt: at(500), data: { clearance: left.id, unused: [0] } }]);
  });

  it('tells the story again with the clearances of its time, whatever came late', async () => {
    const { id } = await granted(10, [TOUCH_UP]);
    await heated(20, id);
    expect(await warned()).toBe(0);
    // A heat of before, told of after.
    await heated(16, id);
    expect(await warned()).toBe(1);
    const { steps } = await stored(id);
    expect(steps[0]?.use?.id).toBe(`e${String(posted)}`);
  });

  it('warns of heats that began before they were cleared, or after the clearance was over', async () => {
    const { id } = await granted(10, [TOUCH_UP, TOUCH_UP]);
    await heated(14, id);
    expect(await warned()).toBe(1);
    await heated(90, id);
    expect(await warned()).toBe(2);
    expect((await stored(id)).steps.every(({ use }) => use === null)).toBe(true);
  });

  it('answers the same request under the same key as the first time, a refusal too', async () => {
    const request = { caller: 'key HOTGAS-1', key: 'k1', bodyHash: 'a' };
    const first = await granted(10, [TOUCH_UP], { request });
    expect(await granted(30, [TOUCH_UP], { request })).toEqual(first);
    await granted(31, [TOUCH_UP]);
    const again = { ...request, key: 'k2' };
    expect(reasons(await ask(32, [TOUCH_UP], { request: again }))).toEqual(['device-excursions']);
    await returnClearance(then(33), { id: first.id, subject: UNIT, actor: BENCH });
    expect(reasons(await ask(34, [TOUCH_UP], { request: again }))).toEqual(['device-excursions']);
    const other = { ...request, bodyHash: 'b' };
    const wish = { subject: UNIT, station: 'HOTGAS-1', operator: 'op-101', ttlSeconds: 60, actor: BENCH, steps: [] };
    expect(await grantClearance(then(35), { ...wish, request: other })).toBe('other-body');
  });

  it('refuses what the setup does not have, a unit that is not there to be worked on, and a device that is missing', async () => {
    expect(reasons(await ask(10, [TOUCH_UP], { subject: 'NONE-1/0001' }))).toEqual(['unknown-assembly']);
    expect(reasons(await ask(10, [{ ...TOUCH_UP, refdes: 'U99' }]))).toEqual(['unknown-site']);
    expect(reasons(await ask(10, [PLACEMENT]))).toEqual(['sequence-broken']);
    expect(reasons(await ask(10, [{ type: 'heatbook.device.reballed.v1' }]))).toEqual(['device-missing']);
    expect(reasons(await ask(10, [TOUCH_UP], { subject: 'ZIB-PANEL-1/9999' }))).toEqual([]);
    await told('heatbook.unit.shipped.v1', 12, {});
    expect(reasons(await ask(13, [TOUCH_UP]))).toContain('sequence-broken');
  });

  it('lets a device that has nothing left be taken off to scrap', async () => {
    await granted(10, [TOUCH_UP]);
    await granted(11, [TOUCH_UP]);
    expect(reasons(await ask(12, [REMOVAL]))).toEqual(['device-excursions']);
    expect(reasons(await ask(12, [TO_SCRAP]))).toEqual([]);
  });

  it('plans a device through its reballing back onto the board, and sees that that is too much', async () => {
    const reball: PlannedStep[] = [
      { type: 'heatbook.device.deballed.v1', method: 'braid' },
      { type: 'heatbook.device.reballed.v1' },
    ];
    const back: PlannedStep = { type: 'heatbook.device.placed.v1', refdes: 'U1', profile: ON };
    expect(await ask(10, [REMOVAL, DRESSING, ...reball, back])).toMatchObject({
      refused: { reasons: [{ code: 'device-excursions', used: 1, reserved: 0, asked: 3, allowed: 3 }] },
    });
    const { warnings } = await granted(11, [TO_SCRAP, DRESSING, back]);
    expect(warnings.map(({ code }) => code)).toEqual(['floor-life', 'device-unnamed']);
  });

  describe('with a hold', () => {
    async function hold(subject: HoldSubject, decision?: Decision): Promise<string> {
      await book.fold();
      const raised = await raiseHold(then(5), { subject, note: 'wet box', by: 'ann' });
      if ('refused' in raised) throw new Error(raised.detail);
      if (decision !== undefined) {
        const disposed = await disposeHold(then(6), { id: raised.id, decision, note: 'looked at', signer: quality });
        if ('refused' in disposed) throw new Error(disposed.detail);
      }
      return raised.id;
    }
    const unit = { assembly: 'ZIB-PANEL-1', serial: '0001' };

    it.each<HoldSubject>([
      { kind: 'unit', ...unit },
      { kind: 'site', ...unit, refdes: 'U1' },
      { kind: 'device', device: 'D1' },
      { kind: 'station', station: 'HOTGAS-1' },
      { kind: 'operator', operator: 'op-101' },
      { kind: 'profile', ...OFF },
    ])('on $kind it refuses, and names the hold', async (subject) => {
      const id = await hold(subject);
      expect(await ask(10, [TOUCH_UP])).toMatchObject({ refused: { reasons: [{ code: 'hold-open', hold: id }] } });
    });

    it('on a neighbour it refuses only what is known to heat that', async () => {
      await hold({ kind: 'site', ...unit, refdes: 'U2' });
      expect(reasons(await ask(10, [TOUCH_UP]))).toEqual([]);
      const pass: PlannedStep = { type: 'heatbook.unit.reflowed.v1' };
      expect(reasons(await ask(10, [pass]))).toEqual(['hold-open']);
    });

    it('on a device it does not refuse its removal to scrap', async () => {
      await hold({ kind: 'device', device: 'D1' });
      expect(reasons(await ask(10, [REMOVAL]))).toEqual(['hold-open']);
      expect(reasons(await ask(10, [TO_SCRAP, DRESSING]))).toEqual([]);
    });

    it.each<[Decision, readonly string[]]>([
      ['rework', []],
      ['repair', []],
      ['use-as-is', ['hold-open']],
      ['scrap', ['decided-scrap']],
      ['return-to-customer', ['route-closed']],
    ])('decided %s, it answers %j', async (decision, expected) => {
      await hold({ kind: 'unit', ...unit }, decision);
      expect(reasons(await ask(10, [TOUCH_UP]))).toEqual(expected);
    });

    it('decided to be returned, it is open again once the unit came back', async () => {
      await hold({ kind: 'unit', ...unit }, 'return-to-customer');
      await told('heatbook.unit.shipped.v1', 20, {});
      expect(reasons(await ask(21, [TOUCH_UP]))).toContain('route-closed');
      await told('heatbook.unit.received.v1', 30, {});
      expect(reasons(await ask(31, [TOUCH_UP]))).not.toContain('route-closed');
    });

    it('that a parked event raised, it refuses', async () => {
      await told('heatbook.site.cleaned.v1', 5, { refdes: 'U77', agent: 'water' });
      const answer = await ask(10, [TOUCH_UP]);
      expect(reasons(answer)).toEqual(['hold-open']);
      // Nobody can decide about it, so that is not what is asked for.
      const [reason] = 'refused' in answer ? answer.refused.reasons : [];
      expect(reason?.remedy).toMatch(/PUT \/v1\/assemblies.*retry.*annulled/);
      expect(reason?.remedy).not.toContain('release');
    });
  });
});
