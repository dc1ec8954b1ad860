import fc from 'fast-check';
import { ToldBook } from '../../../test/support/domain-book.js';
import { clearance, worldWith } from '../../../test/support/domain-clearances.js';
import { cool, ofDevice, onUnit } from '../../../test/support/domain-events.js';
import { boardDesign, limitRule, profileData, rulesOf } from '../../../test/support/domain-rules.js';
import { applyEvent } from '../book/apply-event.js';
import { tallyOf } from '../book/budgets.js';
import { World } from '../book/state.js';
import { usedOf } from '../book/tally.js';
import { holdSubjectKey } from '../holds/hold-subject.js';
import { Rules } from '../setup/setup-data.js';
import { subjectKey } from '../subject/subject.js';
import { Clearance, PlannedStep } from './clearance.js';
import { PlanDevices } from './plan-devices.js';
import { plannedEvent } from './planned-event.js';
import { PlanOutcome, simulatePlan } from './simulate-plan.js';

const board = onUnit();
const frame = { clearance: 'C9', subject: 'BRD/0001', station: 'HOT', operator: 'ann', at: '2031-03-04T06:00:00Z' };
const sites = ['U1', 'U2', 'U3', 'U4'].map((refdes) => ({ refdes, priorReworks: 0 }));

function told(rules: Rules = rulesOf()): World {
  return new ToldBook().tell([board.received({ sites }), ofDevice('N1').received()], rules).world;
}

function plan(steps: readonly PlannedStep[], rules: Rules = rulesOf(), others: readonly Clearance[] = []): PlanOutcome {
  return simulatePlan(told(rules), rules, frame, steps, others);
}

const asked = (outcome: PlanOutcome): string[] =>
  outcome.spends.map((spend) => `${spend.limit} ${subjectKey(spend.subject)} ${String(spend.asked)}`).sort();

const TOUCH_UP: PlannedStep = { type: 'heatbook.site.heated.v1', refdes: 'U1', profile: cool };
const REMOVAL: PlannedStep = { type: 'heatbook.device.removed.v1', refdes: 'U1', profile: cool };
const BRAID: PlannedStep = { type: 'heatbook.site.dressed.v1', refdes: 'U1', method: 'braid' };
const PLACEMENT: PlannedStep = { type: 'heatbook.device.placed.v1', refdes: 'U1', device: 'N1', profile: cool };

describe('a plan', () => {
  it('is warned about a board that is not known to be dry, where hot gas is meant, and not once it is baked', () => {
    const words = (world: World, steps: readonly PlannedStep[]): string[] =>
      simulatePlan(world, rulesOf(), frame, steps, []).warnings.map(({ code }) => code);
    expect(words(told(), [TOUCH_UP])).toContain('floor-life');
    expect(words(told(), [BRAID])).not.toContain('floor-life');
    const baked = new ToldBook().tell([board.received({ sites }), board.baked()], rulesOf()).world;
    expect(words(baked, [TOUCH_UP])).not.toContain('floor-life');
  });

  it('spends what its steps would, for device, site and unit', () => {
    expect(asked(plan([REMOVAL, BRAID, PLACEMENT]))).toEqual([
      'device-excursions devices/BRD:0001:U1 1',
      'device-excursions devices/N1 1',
      'site-dressings BRD/0001#U1 1',
      'site-excursions BRD/0001#U1 3',
      'site-reworks BRD/0001#U1 1',
    ]);
    const pass = plan([{ type: 'heatbook.unit.reflowed.v1', profile: cool }]);
    expect(asked(pass)).toContain('unit-reflows BRD/0001 1');
    expect(asked(pass).filter((row) => row.startsWith('device'))).toHaveLength(4);
  });

  it('counts a neighbour that its profile says to pass the line, and not one that is only possible', () => {
    const hot = { name: 'hot', revision: '1' };
    const rules = rulesOf({ profile: { 'hot@1': profileData({ neighbourPeaks: [{ refdes: 'U2', peakC: 215 }] }) } });
    const outcome = plan([{ ...TOUCH_UP, profile: hot }], rules);
    expect(asked(outcome)).toContain('device-excursions devices/BRD:0001:U2 1');
    expect(asked(outcome).join()).not.toContain('U3');
    expect(outcome.warnings.map(({ code }) => code)).toEqual(['floor-life', 'operator-unknown', 'neighbour-possible']);
    expect([...(outcome.reaches[0]?.subjects ?? [])]).toContain('BRD/0001#U2');
    expect([...(outcome.reaches[0]?.subjects ?? [])]).not.toContain('BRD/0001#U3');
  });

  it('spends a possible excursion where the limit does', () => {
    const strict = limitRule('device-excursions', { countPossible: true, allowed: 1 });
    const rules = rulesOf({ limit: { 'device-excursions': strict } });
    const reasons = plan([{ type: 'heatbook.site.heated.v1', refdes: 'U2' }], rules).reasons;
    expect(reasons).toContainEqual(
      expect.objectContaining({ subject: { kind: 'device', device: 'BRD:0001:U1' }, used: 1, asked: 1, allowed: 1 }),
    );
  });

  it('of a unit that nobody has told of is that of a board as it was built', () => {
    const fresh = simulatePlan(worldWith(), rulesOf(), frame, [TOUCH_UP], []);
    expect(fresh.reasons).toEqual([]);
    expect(fresh.spends).toContainEqual(expect.objectContaining({ limit: 'device-excursions', used: 1, asked: 1 }));
    expect(fresh.warnings.map(({ code }) => code)).toContain('not-received');
  });

  it('is not granted what another clearance reserves of a device that was given its name since', () => {
    const subject = { kind: 'device', device: 'BRD:0001:U1' } as const;
    const reserves = [{ subject, limit: 'device-excursions', counted: 2, possible: 0 } as const];
    const other = { ...clearance([]), steps: [{ plan: TOUCH_UP, device: null, reserves, use: null }] };
    const world = told();
    const named = board.received({ devices: [{ refdes: 'U1', device: 'K1' }] });
    new ToldBook(world).tell([{ ...named, time: '2031-03-03T12:00:00Z' }], rulesOf());
    const { reasons } = simulatePlan(world, rulesOf(), frame, [TOUCH_UP], [other]);
    expect(reasons).toContainEqual(
      expect.objectContaining({ code: 'device-excursions', used: 1, reserved: 2, asked: 1, allowed: 3 }),
    );
  });

  it('is not granted what another clearance reserves of a device that the book hears of first by plans', () => {
    const loose = { ...frame, subject: 'devices/X9' };
    const reballing: PlannedStep = { type: 'heatbook.device.reballed.v1', device: 'X9' };
    const first = simulatePlan(worldWith(), rulesOf(), loose, [reballing], []);
    expect(first.spends).toMatchObject([{ used: 0, reserved: 0, asked: 1, allowed: 3 }]);
    expect(first.warnings.map(({ code }) => code)).toContain('history-unknown');
    const others = ['C1', 'C2', 'C3'].map((id) => ({
      ...clearance([]),
      id,
      subject: 'devices/X9',
      steps: [...first.steps],
    }));
    expect(simulatePlan(worldWith(), rulesOf(), loose, [reballing], others.slice(1)).reasons).toEqual([]);
    expect(simulatePlan(worldWith(), rulesOf(), loose, [reballing], others).reasons).toMatchObject([
      { code: 'device-excursions', used: 0, reserved: 3, asked: 1, allowed: 3 },
    ]);
    expect(plan([{ ...PLACEMENT, device: 'X9' }], rulesOf(), others).reasons).toContainEqual(
      expect.objectContaining({ code: 'device-excursions', reserved: 3, asked: 1 }),
    );
  });

  it('is not granted what another clearance reserves under a name that only its removal reads', () => {
    const keep: PlannedStep[] = [{ ...REMOVAL, device: 'K1', fate: 'keep' }, { type: 'heatbook.device.reballed.v1' }];
    const first = plan(keep);
    expect(first.reasons).toEqual([]);
    const others = [{ ...clearance([]), steps: [...first.steps] }];
    expect(plan(keep, rulesOf(), others).reasons).toContainEqual(
      expect.objectContaining({ code: 'device-excursions', used: 1, reserved: 2, asked: 2, allowed: 3 }),
    );
  });

  it('says that its station is not in the setup, as a mistyped one is not', () => {
    const { reasons, warnings } = simulatePlan(told(), rulesOf(), { ...frame, station: 'HTO' }, [TOUCH_UP], []);
    expect(reasons).toEqual([]);
    expect(warnings.map(({ code }) => code)).toContain('station-unknown');
  });

  it('names a clearance to be given back only where that would help', () => {
    const others = [{ ...clearance([]), steps: [...plan([TOUCH_UP]).steps] }];
    const remedies = (times: number) =>
      plan(Array<PlannedStep>(times).fill(TOUCH_UP), rulesOf(), others).reasons.map(({ remedy }) => remedy);
    expect(remedies(2)).toEqual([expect.stringContaining('give back clearance C1')]);
    expect(remedies(3)).toEqual([expect.not.stringContaining('give back')]);
  });

  it('names the step that is missing its device, and a placement that is not looked at', () => {
    expect(plan([{ type: 'heatbook.device.reballed.v1' }]).reasons.map(({ code }) => code)).toEqual(['device-missing']);
    const { warnings } = plan([
      { ...REMOVAL, fate: 'scrap' },
      BRAID,
      { type: 'heatbook.device.placed.v1', refdes: 'U1', profile: cool },
    ]);
    expect(warnings.map(({ code }) => code)).toEqual(['floor-life', 'operator-unknown', 'device-unnamed']);
  });
});

/** What the fold says of the plan's own events, when they are facts. */
function foldedAsFacts(steps: readonly PlannedStep[], rules: Rules): { holds: string[]; used: Map<string, number> } {
  const world = told(rules);
  const before = world.causes.length;
  const devices = new PlanDevices(world, frame.subject);
  for (const [place, step] of steps.entries()) {
    const device = devices.next(step);
    applyEvent(world, plannedEvent(frame, step, place, device, world, rules), rules);
  }
  const { spends } = plan(steps, rules);
  const used = spends.map(({ subject, limit }) => [
    `${limit} ${subjectKey(subject)}`,
    usedOf(tallyOf(world, subject, limit)),
  ]);
  const holds = world.causes.slice(before).map(({ reason, subject }) => `${reason} ${subjectKey(subject)}`);
  return { holds: [...new Set(holds)].sort(), used: new Map(used as [string, number][]) };
}

it('is refused exactly where its facts would be held, and spends exactly what they count', () => {
  const rules = rulesOf({ assembly: { BRD: boardDesign({ assemblyReflows: { top: 1, bottom: 2 } }) } });
  const refdes = fc.constantFrom('U1', 'U2', 'U4');
  const profile = fc.constantFrom(cool, { name: 'mute', revision: '1' });
  const step: fc.Arbitrary<PlannedStep> = fc.oneof(
    fc.record({ type: fc.constant('heatbook.site.heated.v1' as const), refdes, profile }),
    fc.record({
      type: fc.constant('heatbook.device.removed.v1' as const),
      refdes,
      profile,
      fate: fc.constantFrom('keep' as const, 'scrap' as const),
    }),
    fc.record({
      type: fc.constant('heatbook.site.dressed.v1' as const),
      refdes,
      method: fc.constantFrom('braid' as const, 'fountain' as const, 'coupon' as const),
    }),
    fc.record({ type: fc.constant('heatbook.device.placed.v1' as const), refdes, device: fc.constant('N1'), profile }),
    fc.record({ type: fc.constant('heatbook.unit.reflowed.v1' as const), profile }),
  );
  fc.assert(
    fc.property(fc.array(step, { minLength: 1, maxLength: 8 }), (steps) => {
      const { reasons, spends } = plan(steps, rules);
      const facts = foldedAsFacts(steps, rules);
      const refused = reasons.map(({ code, subject }) => `${code} ${holdSubjectKey(subject)}`).sort();
      expect(refused).toEqual(facts.holds);
      for (const { subject, limit, used, asked: amount } of spends) {
        expect(used + amount).toBe(facts.used.get(`${limit} ${subjectKey(subject)}`));
      }
    }),
    { numRuns: 150 },
  );
});
