import type { Budget } from '../units/budget-words.js';
import { brokenBudget, figuresThen, otherBudgets } from './hold-budget.js';
import { bareHold } from './spec-support/bare-hold.js';

const SITE = { kind: 'site', assembly: 'A-1', serial: '0103', refdes: 'U7' } as const;

function budget(given: Partial<Budget>): Budget {
  return {
    subject: SITE,
    limit: 'site-reworks',
    ...{ used: 4, possible: 0, reserved: 0, allowed: 3, remaining: -1, basis: 'declared' },
    inputs: { prior: { count: 0, basis: 'declared' }, measured: 0, declared: 4, inferred: 0 },
    rule: null,
    ...given,
  };
}

describe('The tallies of a hold', () => {
  const broken = budget({});
  const dressings = budget({ limit: 'site-dressings' });
  const neighbour = budget({ subject: { ...SITE, refdes: 'U8' } });
  const hold = bareHold({ budgets: [dressings, neighbour, broken] });

  it('have the one that broke apart from the others', () => {
    expect(brokenBudget(hold)).toBe(broken);
    expect(otherBudgets(hold)).toEqual([[dressings], [neighbour]]);
  });

  it('show it as it stood when it broke, whatever was conceded since', () => {
    const conceded = budget({ allowed: 5, remaining: 1 });
    const told = bareHold({ evidence: { summary: '4 of 3 allowed reworks used.', used: 4, allowed: 3 } });
    expect(figuresThen(told, conceded)).toEqual({ used: 4, allowed: 3 });
    expect(figuresThen(bareHold(), conceded)).toEqual({ used: 4, allowed: 5 });
    expect(figuresThen(bareHold(), budget({ allowed: null }))).toBeNull();
  });
});
