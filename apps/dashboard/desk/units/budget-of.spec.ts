import type { Schemas } from '../api/client.js';
import { budgetsOfBoard, budgetsOfSite, tightest, whoseBudget } from './budget-of.js';
import type { Budget } from './budget-words.js';

function budget(subject: Budget['subject'], limit: Budget['limit'], remaining: number | null): Budget {
  const inputs = { prior: { count: 0, basis: 'declared' }, measured: 0, declared: 0, inferred: 0 } as const;
  const figures = { used: 0, possible: 0, reserved: 0, allowed: remaining, remaining, basis: 'declared' } as const;
  return { subject, limit, ...figures, inputs, rule: null };
}

const unit = { kind: 'unit', assembly: 'A', serial: '1' } as const;
const site = (refdes: string) => ({ kind: 'site', assembly: 'A', serial: '1', refdes }) as const;
const device = (name: string) => ({ kind: 'device', device: name }) as const;

const ALL: readonly Budget[] = [
  budget(unit, 'unit-reflows', 5),
  budget(site('U1'), 'site-reworks', 2),
  budget(site('U1'), 'site-excursions', 4),
  budget(device('D-1'), 'device-excursions', -1),
  budget(site('U2'), 'site-reworks', 0),
  budget(device('D-2'), 'device-excursions', null),
];

const at = (refdes: string, on: string | null) => ({ refdes, device: on }) as Schemas['Site'];

describe('The budgets of a site', () => {
  it('are those of its device and its own, excursions first', () => {
    const { device: ofDevice, site: ofSite } = budgetsOfSite(ALL, at('U1', 'D-1'));
    expect(ofDevice?.remaining).toBe(-1);
    expect(ofSite.map(({ limit }) => limit)).toEqual(['site-excursions', 'site-reworks']);
  });

  it('have none of a device where the site is bare', () => {
    expect(budgetsOfSite(ALL, at('U2', null)).device).toBeUndefined();
  });
});

it('The budgets of the board are of no site and no device', () => {
  expect(budgetsOfBoard(ALL).map(({ limit }) => limit)).toEqual(['unit-reflows']);
});

it('The tightest budgets have least left; one without a limit is not tight', () => {
  expect(tightest(ALL, 3).map(({ remaining }) => remaining)).toEqual([-1, 0, 2]);
  expect(tightest(ALL, 9)).toHaveLength(5);
});

it('A budget is of the board, of a site, or of the device on one', () => {
  const sites = [at('U1', 'D-1')];
  expect(ALL.map((one) => whoseBudget({ sites }, one))).toEqual(['board', 'U1', 'U1', 'device on U1', 'U2', 'D-2']);
});
