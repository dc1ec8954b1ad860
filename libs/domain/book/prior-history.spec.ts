import { book, figures } from '../../../test/support/domain-book.js';
import { ofDevice, onUnit, said } from '../../../test/support/domain-events.js';
import { boardDesign, rulesOf } from '../../../test/support/domain-rules.js';
import { basisOf } from './tally.js';

const board = onUnit();
const sided = rulesOf({ assembly: { BRD: boardDesign({ assemblyReflows: { top: 1, bottom: 2 } }) } });
const touched = [board.heated('U1'), board.heated('U3')];

describe("what a unit's build is taken to have cost", () => {
  it('one figure for the unit, each site and each device', () => {
    const told = book([board.received(), board.removed('U1')]);
    expect(told.unit().reflows.prior).toEqual({ count: 1, basis: 'assumed' });
    expect(told.site('U2').excursions.prior).toEqual({ count: 1, basis: 'assumed' });
    expect(told.device('BRD:0001:U1').excursions.prior).toEqual({ count: 1, basis: 'assumed' });
  });

  it('one by the side that a device sits on; the unit has seen the most that any side did', () => {
    const told = book([board.received(), ...touched], sided);
    expect(told.device('BRD:0001:U1').excursions.prior.count).toBe(1);
    expect(told.device('BRD:0001:U3').excursions.prior.count).toBe(2);
    expect(told.unit().reflows.prior).toEqual({ count: 2, basis: 'assumed' });
  });
});

describe('declared figures', () => {
  it('for reflows replace what would be assumed of unit, sites and devices', () => {
    const told = book([board.received({ priorReflows: 0 }), ...touched], sided);
    expect(told.unit().reflows.prior).toEqual({ count: 0, basis: 'declared' });
    expect(told.site('U3').excursions.prior).toEqual({ count: 0, basis: 'declared' });
    expect(told.device('BRD:0001:U3').excursions.prior).toEqual({ count: 0, basis: 'declared' });
    expect(told.spent('BRD:0001:U3')).toBe(1);
  });

  it('for a device replace both, for that device alone', () => {
    const devices = [
      { refdes: 'U1', device: 'D1', priorExcursions: 2 },
      { refdes: 'U2', priorExcursions: 0 },
      { refdes: 'U3', device: 'D3' },
    ];
    const told = book([board.received({ priorReflows: 1, devices }), ...touched], sided);
    expect(told.device('D1').excursions.prior).toEqual({ count: 2, basis: 'declared' });
    expect(told.device('BRD:0001:U2').excursions.prior).toEqual({ count: 0, basis: 'declared' });
    expect(told.device('D3').excursions.prior).toEqual({ count: 1, basis: 'declared' });
    expect(told.site('U1').excursions.prior.count).toBe(1);
  });

  it('for a device without reflows declared leave the assumption for the rest', () => {
    const told = book([board.received({ devices: [{ refdes: 'U1', priorExcursions: 2 }] }), ...touched], sided);
    expect(told.device('BRD:0001:U1').excursions.prior).toEqual({ count: 2, basis: 'declared' });
    expect(told.device('BRD:0001:U3').excursions.prior).toEqual({ count: 2, basis: 'assumed' });
  });

  it('for the reworks of a site come before those of the book', () => {
    const told = book([board.received({ sites: [{ refdes: 'U1', priorReworks: 2 }] }), board.removed('U1')]);
    expect(figures(told.site('U1').reworks).used).toBe(3);
    expect(told.holds()).toEqual([]);
  });

  it('that are over a limit already hold at once, naming the figures', () => {
    const told = book([board.received({ priorReflows: 7, sites: [{ refdes: 'U1', priorReworks: 4 }] })]);
    expect(told.holds()).toEqual(expect.arrayContaining(['site-reworks BRD/0001#U1', 'unit-reflows BRD/0001']));
    expect(told.causes('unit-reflows')[0]?.evidence).toMatchObject({ used: 7, allowed: 6 });
  });

  it('that are over the limit of devices hold a device whether or not it has a name of its own', () => {
    const named = book([board.received({ priorReflows: 4, devices: [{ refdes: 'U1', device: 'D1' }] })]);
    expect(named.holds()).toContain('device-excursions devices/D1');
    const unnamed = book([board.received({ priorReflows: 4 })]);
    expect(unnamed.holds()).toContain('device-excursions devices/BRD:0001:U1');
  });

  it('at a second receipt are not taken, and a warning says so', () => {
    const told = book([
      board.received({ priorReflows: 1 }),
      board.reflowed(),
      board.shipped(),
      board.received({ priorReflows: 0 }),
    ]);
    expect(figures(told.unit().reflows).used).toBe(2);
    expect(told.warnings()).toContain('prior-ignored BRD/0001');
  });

  it('add to what was counted before the receipt was told of', () => {
    const told = book([board.heated('U1'), board.received({ priorReflows: 2 }), board.heated('U1')]);
    expect(told.spent('BRD:0001:U1')).toBe(4);
    expect(told.warnings()).toContain('not-received BRD/0001');
  });

  it('do not touch a device that was placed here with a history of its own', () => {
    const told = book([
      ofDevice('N1').received({ priorExcursions: 0 }),
      board.removed('U1'),
      board.placed('U1', 'N1'),
      board.received({ priorReflows: 5 }),
    ]);
    expect(told.device('N1').excursions.prior).toEqual({ count: 0, basis: 'declared' });
  });

  it('are judged in the order in which they happened, whatever the order they were told in', () => {
    const early = said(board.received({ priorReflows: 0 }), { time: '2031-03-03T05:00:00Z' });
    const told = book([board.removed('U1'), early]);
    expect(told.warnings()).toEqual(['history-unknown BRD/0001#U1']);
    expect(told.spent('BRD:0001:U1')).toBe(1);
  });
});

describe('what nobody declared', () => {
  it('is unknown for a device that came alone, said so and warned about', () => {
    const told = book([ofDevice('N1').found()]);
    expect(told.device('N1').excursions.prior).toEqual({ count: 0, basis: 'unknown' });
    expect(basisOf(told.device('N1').excursions)).toBe('unknown');
    expect(told.warnings()).toEqual(['history-unknown devices/N1']);
  });

  it.each([
    ['placed', board.placed('U1', 'N1')],
    ['deballed', ofDevice('N1').deballed()],
    ['reballed', ofDevice('N1').reballed()],
  ])('is unknown, and warned about, for a device first heard of when it was %s', (_, step) => {
    const told = book([board.received(), board.removed('U1'), board.dressed('U1'), step]);
    expect(told.device('N1').excursions.prior.basis).toBe('unknown');
    expect(told.warnings()).toContain('history-unknown devices/N1');
  });

  it('is unknown for the reworks of a site, and warned about when it is reworked', () => {
    const told = book([board.received(), board.removed('U1')]);
    expect(told.site('U1').reworks.prior.basis).toBe('unknown');
    expect(told.warnings()).toEqual(['history-unknown BRD/0001#U1']);
  });

  it('is not warned about where the sites were declared', () => {
    const told = book([board.received({ sites: [{ refdes: 'U1', priorReworks: 0 }] }), board.removed('U1')]);
    expect(told.warnings()).toEqual([]);
  });

  it('is unknown for moisture, until a bake, a dry pack or an exposure says otherwise', () => {
    const told = book([
      board.received(),
      ofDevice('N0').received(),
      ofDevice('N1').received({ packSealedAt: '2031-01-01T00:00:00Z' }),
      ofDevice('N2').received(),
      ofDevice('N2').baked(),
      ofDevice('N3').received(),
      ofDevice('N3').exposed(),
    ]);
    expect(told.unit().moisture.spells).toEqual([]);
    const first = (name: string): string | undefined => told.device(name).moisture.spells[0]?.kind;
    expect(['N0', 'N1', 'N2', 'N3'].map(first)).toEqual([undefined, 'sealed', 'baked', 'air']);
  });
});

describe('a device that is received again on its own', () => {
  const n1 = ofDevice('N1');

  it('keeps what an earlier receipt said of its lot, date code and owner', () => {
    const told = book([n1.received({ lot: 'L7', dateCode: '3107', owner: 'NORTH' }), n1.received()]);
    expect(told.device('N1')).toMatchObject({ lot: 'L7', dateCode: '3107', owner: 'NORTH' });
  });

  it('is not charged twice for what the book counted itself', () => {
    const told = book([n1.received({ priorExcursions: 0 }), n1.reballed(), n1.received({ priorExcursions: 1 })]);
    expect(told.spent('N1')).toBe(1);
  });
});
