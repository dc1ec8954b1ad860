import { type Moved, showsAll, sumOf, sumsByCustomer, type WhatIf } from './what-if-sums.js';

type Breach = Moved['then']['breach'];

function moved(assembly: string | null, breach: Breach, hold: string | null = null): Moved {
  const side = { used: 3, allowed: 2, limit: null };
  return {
    subject: { kind: 'device', device: 'K-1' },
    unit: assembly === null ? null : { assembly, serial: '1' },
    now: { ...side, breach: 'none' },
    then: { ...side, breach },
    hold,
  };
}

function whatIf(worse: readonly Moved[], better: readonly Moved[], total = worse.length): WhatIf {
  return {
    limit: 'device-excursions',
    kind: 'device-excursions',
    revision: 2,
    effectiveAt: '2026-03-03T00:00:00Z',
    assessed: true,
    examined: { units: 9, looseDevices: 2 },
    newlyInBreach: { total, items: [...worse] },
    noLongerInBreach: { total: better.length, items: [...better] },
  };
}

const customerOf = (assembly: string) => (assembly === 'A-1' ? 'Thimblewick' : 'Zibbleford');

describe('What another limit would do', () => {
  const answer = whatIf(
    [moved('A-1', 'hold'), moved('B-1', 'hold', 'h1'), moved('B-1', 'warn'), moved(null, 'hold'), moved('A-1', 'hold')],
    [moved('A-1', 'none', 'h2'), moved('B-1', 'warn', 'h3'), moved('B-1', 'none'), moved('B-1', 'hold', 'h4')],
  );

  it('is counted by customer, the one with most new holds first; loose devices are nobody’s', () => {
    const none = { held: 0, heldAlready: 0, warned: 0, lifted: 0, eased: 0 };
    expect(sumsByCustomer(answer, customerOf)).toEqual([
      { ...none, customer: 'Thimblewick', held: 2, lifted: 1 },
      { ...none, customer: 'Loose devices', held: 1 },
      { ...none, customer: 'Zibbleford', heldAlready: 1, warned: 1, lifted: 1, eased: 2 },
    ]);
  });

  it('adds up, and says where only the first of many are shown', () => {
    expect(sumOf(sumsByCustomer(answer, customerOf))).toEqual({
      held: 3,
      heldAlready: 1,
      warned: 1,
      lifted: 2,
      eased: 2,
    });
    expect(showsAll(answer)).toBe(true);
    expect(showsAll(whatIf([moved('A-1', 'hold')], [], 700))).toBe(false);
  });
});
