import { book, figures } from '../../../test/support/domain-book.js';
import { Draft, heat, ofDevice, onUnit, tc } from '../../../test/support/domain-events.js';
import { limitRule, partData, rulesOf } from '../../../test/support/domain-rules.js';

const board = onUnit();
const came = (priorReworks = 0): Draft => board.received({ sites: [{ refdes: 'U1', priorReworks }] });
const cycle = (device: string): Draft[] => [
  board.removed('U1'),
  board.dressed('U1'),
  ofDevice(device).received(),
  board.placed('U1', device),
];

describe('reworks of a site', () => {
  it('count at removal, not at placement', () => {
    const told = book([came(), board.removed('U1')]);
    expect(figures(told.site('U1').reworks).used).toBe(1);
    expect(figures(book([came(), ...cycle('N1')]).site('U1').reworks).used).toBe(1);
  });

  it('that are allowed in all raise nothing; one more is a hold that names the figures and the limit', () => {
    const three = [came(), ...cycle('N1'), ...cycle('N2'), ...cycle('N3')];
    expect(book(three).holds()).toEqual([]);
    const told = book([...three, board.removed('U1')]);
    expect(told.holds()).toEqual(['site-reworks BRD/0001#U1']);
    const evidence = told.causes('site-reworks')[0]?.evidence;
    expect(evidence).toMatchObject({
      used: 4,
      allowed: 3,
      unit: 'reworks',
      limit: { name: 'site-reworks', revision: 1, source: expect.stringMatching(/policy/i) as string },
    });
    expect(evidence?.summary).toMatch(/4 of 3 allowed reworks used/);
  });

  it('count as many as there were, also a cold removal', () => {
    const told = book([came(), board.removed('U1', { heat: heat(tc('joint', 20)) })]);
    expect(figures(told.site('U1').reworks).used).toBe(1);
  });
});

describe('dressings of a site', () => {
  it('are one each, with their passes kept beside', () => {
    const dressings = [board.dressed('U1', { passes: 3 }), board.dressed('U1', { method: 'vacuum', passes: 2 })];
    const told = book([came(), board.removed('U1'), ...dressings]);
    expect(figures(told.site('U1').dressings).used).toBe(2);
    expect(told.site('U1').passes).toBe(5);
  });

  it('beyond the limit are warned about and stop nothing', () => {
    const six = [came(), board.removed('U1'), ...Array.from({ length: 6 }, () => board.dressed('U1'))];
    expect(book(six).warnings()).toEqual([]);
    const told = book([...six, board.dressed('U1')]);
    expect(told.warnings()).toContain('site-dressings BRD/0001#U1');
    expect(told.holds()).toEqual([]);
  });

  it('are held where a limit of the customer says hold', () => {
    const rules = rulesOf({
      limit: { strict: limitRule('site-dressings', { allowed: 1, action: 'hold', scope: { customer: 'NORTH' } }) },
    });
    const told = book([came(), board.removed('U1'), board.dressed('U1'), board.dressed('U1')], rules);
    expect(told.holds()).toEqual(['site-dressings BRD/0001#U1']);
    expect(told.causes('site-dressings')[0]).toMatchObject({ customer: 'NORTH', station: 'HOT' });
  });
});

describe('excursions of a device', () => {
  const n1 = ofDevice('N1');
  const placedWith = (priorExcursions: number): Draft[] => [
    came(),
    board.removed('U1'),
    board.dressed('U1'),
    n1.received({ priorExcursions }),
    board.placed('U1', 'N1'),
  ];

  it('up to the last that is allowed raise nothing', () => {
    const told = book(placedWith(2));
    expect(told.spent('N1')).toBe(3);
    expect(told.holds()).toEqual([]);
  });

  it('one beyond hold the device, in the effects of the very event, with figures, source and remedy', () => {
    const told = book(placedWith(3));
    expect(told.holds()).toEqual(['device-excursions devices/N1']);
    const called = told.effects(-1).flatMap((effect) => (effect.kind === 'hold-called' ? [effect.cause] : []));
    expect(called).toHaveLength(1);
    expect(called[0]).toMatchObject({
      reason: 'device-excursions',
      unit: { assembly: 'BRD', serial: '0001' },
      customer: 'NORTH',
      evidence: {
        used: 4,
        allowed: 3,
        unit: 'excursions',
        limit: { name: 'device-excursions', revision: 1, source: expect.stringContaining('J-STD-020') as string },
      },
    });
    expect(called[0]?.remedy).not.toBe('');
  });

  it('of a spent device do not stop its removal to scrap', () => {
    const spent = board.received({ devices: [{ refdes: 'U1', priorExcursions: 3 }] });
    const told = book([spent, board.removed('U1', { fate: 'scrap' })]);
    expect(told.holds()).toEqual([]);
    expect(told.spent('BRD:0001:U1')).toBe(4);
    expect(told.device('BRD:0001:U1').status).toBe('scrapped');
  });

  it('of a spent device stop it where it is kept', () => {
    const spent = board.received({ devices: [{ refdes: 'U1', priorExcursions: 3 }] });
    const told = book([spent, board.removed('U1', { fate: 'keep' })]);
    expect(told.holds()).toEqual(['device-excursions devices/BRD:0001:U1']);
    expect(told.device('BRD:0001:U1').status).toBe('loose');
  });

  it('of a spent device on its way to scrap stop the neighbours all the same', () => {
    const spent = board.received({ devices: [{ refdes: 'U2', priorExcursions: 3 }] });
    const told = book([spent, board.removed('U1', { heat: heat(tc('joint', 230, { refdes: 'U2' })) })]);
    expect(told.holds()).toEqual(['device-excursions devices/BRD:0001:U2']);
  });

  it("are held against the maker's figure for the part, on a board and loose", () => {
    const rules = rulesOf({ part: { CHIP: partData({ maxExcursions: 1 }) } });
    expect(book(placedWith(0), rules).holds()).toEqual([]);
    const told = book(placedWith(1), rules);
    expect(told.holds()).toEqual(['device-excursions devices/N1']);
    expect(told.causes('device-excursions')[0]?.evidence).toMatchObject({
      used: 2,
      allowed: 1,
      limit: { source: expect.stringMatching(/maker.*CHIP/) as string },
    });
    expect(book([n1.received({ priorExcursions: 1 }), n1.reballed()], rules).holds()).toEqual(told.holds());
  });

  it('are warned about only, where the limit says warn', () => {
    const rules = rulesOf({
      limit: { mild: limitRule('device-excursions', { action: 'warn', scope: { assembly: 'BRD' } }) },
    });
    const told = book(placedWith(3), rules);
    expect(told.holds()).toEqual([]);
    expect(told.warnings()).toContain('device-excursions devices/N1');
  });
});

describe('passes of a whole board', () => {
  it('are six in all, and the seventh is a hold on the unit', () => {
    const passes = (n: number) => [
      board.received({ priorReflows: 0 }),
      ...Array.from({ length: n }, () => board.reflowed()),
    ];
    expect(book(passes(6)).holds()).not.toContain('unit-reflows BRD/0001');
    expect(book(passes(7)).holds()).toContain('unit-reflows BRD/0001');
  });

  it('and excursions of a site beyond eight are a warning', () => {
    const heats = Array.from({ length: 9 }, () => board.dressed('U1'));
    expect(
      book([board.received({ priorReflows: 0 }), board.removed('U1'), ...heats.slice(0, 7)]).warnings(),
    ).not.toContain('site-excursions BRD/0001#U1');
    expect(book([board.received({ priorReflows: 0 }), board.removed('U1'), ...heats]).warnings()).toContain(
      'site-excursions BRD/0001#U1',
    );
  });
});
