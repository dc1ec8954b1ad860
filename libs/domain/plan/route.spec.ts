import { DRESSING_METHODS, DressingMethod } from '../events/station-event.js';
import { PlanGoal, PlanStage, routeSteps, spendsOf } from './route.js';

function route(goal: PlanGoal, stage: PlanStage, dressing: DressingMethod = 'braid', deballing?: DressingMethod) {
  const area = { pads: 256, ballPitchMm: 1, padDiameterMm: 0.45 };
  return routeSteps({ goal, stage, refdes: 'U7', device: 'D-1', area, dressing, deballing });
}

const named = (steps: ReturnType<typeof route>): string[] =>
  steps.map(({ type }) => type.split('.').slice(1, 3).join(' '));

describe('a route', () => {
  it('to a new device removes, dresses and places', () => {
    const steps = route('new-device', 'fitted');
    expect(named(steps)).toEqual(['device removed', 'site dressed', 'device placed']);
    expect(steps.map(({ fate }) => fate)).toEqual(['scrap', undefined, undefined]);
    expect(steps.every(({ device }) => device === undefined)).toBe(true);
    expect(spendsOf(steps)).toEqual({ siteReworks: 1, siteDressings: 1, siteExcursions: 3, deviceExcursions: 1 });
  });

  it('to a reused device keeps it, takes its balls off and puts new ones on', () => {
    const steps = route('reuse-device', 'fitted');
    expect(named(steps)).toEqual([
      'device removed',
      'site dressed',
      'device deballed',
      'device reballed',
      'device placed',
    ]);
    expect(steps.map(({ device }) => device)).toEqual(['D-1', undefined, 'D-1', 'D-1', 'D-1']);
    expect(steps[0]).toMatchObject({ fate: 'keep', spends: { deviceExcursions: 1 } });
  });

  // Excursions spent by policy: removal 1 if kept, fountain deballing 1, braid deballing 0, reballing 1, placement 1.
  it.each([
    ['braid', 3],
    ['vacuum', 3],
    ['fountain', 4],
    ['coupon', 4],
  ] as const)('with deballing by %s spends %d excursions of a reused device', (deballing, excursions) => {
    expect(spendsOf(route('reuse-device', 'fitted', 'braid', deballing)).deviceExcursions).toBe(excursions);
  });

  // Braid and vacuum 1 local, coupon 1, removal 1, placement 1; a fountain at the site is counted likewise.
  it.each(DRESSING_METHODS)('with dressing by %s spends three excursions of the site', (method) => {
    expect(spendsOf(route('new-device', 'fitted', method)).siteExcursions).toBe(3);
  });

  it('starts where the site is', () => {
    expect(named(route('new-device', 'bare'))).toEqual(['site dressed', 'device placed']);
    expect(named(route('new-device', 'dressed'))).toEqual(['device placed']);
    expect(spendsOf(route('new-device', 'bare')).siteReworks).toBe(0);
  });

  it('reaches the neighbours by hot gas, a fountain and a coupon at the site, not by braid or vacuum', () => {
    const spreads = (dressing: DressingMethod) => route('new-device', 'bare', dressing)[0]?.spreads;
    expect(DRESSING_METHODS.map(spreads)).toEqual([false, false, true, true]);
    expect(route('reuse-device', 'fitted', 'braid', 'fountain')[2]?.spreads).toBe(false);
  });
});
