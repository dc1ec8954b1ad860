import { bases, book, figures } from '../../../test/support/domain-book.js';
import { Draft, heat, ofDevice, onUnit, tc } from '../../../test/support/domain-events.js';
import { DressingMethod } from '../events/station-event.js';

const board = onUnit();
const n1 = ofDevice('N1');
const came = board.received({ priorReflows: 0 });

/** What a step spends of U1 and its device, on a board and device with nothing spent before. */
function spends(step: Draft, device: string, before: readonly Draft[] = []) {
  const earlier = book([came, n1.received(), ...before]);
  const told = book([came, n1.received(), ...before, step]);
  return {
    site: figures(told.site('U1').excursions).used - figures(earlier.site('U1').excursions).used,
    device: told.spent(device) - (earlier.world.devices.has(device) ? earlier.spent(device) : 0),
  };
}

const anonymous = 'BRD:0001:U1';
const bare = [board.removed('U1')];

// House policy, by step: what a heat spends of its site and its device where neither bore a thermocouple.
describe('without a thermocouple', () => {
  it.each([
    ['whole-board reflow', board.reflowed(), anonymous, [], { site: 1, device: 1 }],
    ['removal', board.removed('U1'), anonymous, [], { site: 1, device: 1 }],
    ['removal of a device that is kept', board.removed('U1', { fate: 'keep' }), anonymous, [], { site: 1, device: 1 }],
    ['placement', board.placed('U1', 'N1'), 'N1', bare, { site: 1, device: 1 }],
    ['braid dressing', board.dressed('U1', { method: 'braid' }), anonymous, bare, { site: 1, device: 0 }],
    ['vacuum dressing', board.dressed('U1', { method: 'vacuum' }), anonymous, bare, { site: 1, device: 0 }],
    ['coupon dressing', board.dressed('U1', { method: 'coupon' }), anonymous, bare, { site: 1, device: 0 }],
    // The table of the house has no row for it; one excursion of the site by trade articles on solder fountains.
    ['fountain dressing', board.dressed('U1', { method: 'fountain' }), anonymous, bare, { site: 1, device: 0 }],
    ['touch-up', board.heated('U1', { purpose: 'touch-up' }), anonymous, [], { site: 1, device: 1 }],
    ['cleaning', board.cleaned('U1'), 'N1', bare, { site: 0, device: 0 }],
    ['bake', board.baked(), 'N1', bare, { site: 0, device: 0 }],
  ])('a %s spends %o', (_, step, device, before, expected) => {
    expect(spends(step, device, before)).toEqual(expected);
  });

  it.each([
    ['braid', 0],
    ['fountain', 1],
  ] as [DressingMethod, number][])('%s deballing spends %d of the device', (method, expected) => {
    expect(book([n1.received(), n1.deballed({ method })]).spent('N1')).toBe(expected);
  });

  it('reballing spends one of the device', () => {
    expect(book([n1.received(), n1.reballed()]).spent('N1')).toBe(1);
  });

  it('a whole-board pass counts for the unit, every site and every device, and neighbours do not count it twice', () => {
    const told = book([came, board.reflowed()]);
    expect(figures(told.unit().reflows).used).toBe(1);
    for (const refdes of ['U1', 'U2', 'U3', 'U4']) {
      expect(figures(told.site(refdes).excursions)).toEqual({ used: 1, possible: 0 });
      expect(told.spent(`BRD:0001:${refdes}`)).toBe(1);
    }
  });

  it('local heat is no whole-board pass', () => {
    const told = book([came, board.removed('U1'), board.dressed('U1'), board.placed('U1', 'N1')]);
    expect(figures(told.unit().reflows).used).toBe(0);
  });

  it('what is counted says that it was inferred, and from which step', () => {
    const told = book([came, board.removed('U1')]);
    expect(told.device(anonymous).excursions.counted).toEqual([
      expect.objectContaining({ basis: 'inferred', why: expect.stringContaining('removal') as string }),
    ]);
  });

  it('a heat with no purpose of melting is possible, not counted', () => {
    const told = book([came, board.heated('U1', { purpose: 'aborted' })]);
    expect(figures(told.site('U1').excursions)).toEqual({ used: 0, possible: 1 });
    expect(figures(told.device(anonymous).excursions)).toEqual({ used: 0, possible: 1 });
  });

  it('a reused device of a single-sided board spends 1+1+1+1 = 4 (worked example of house policy)', () => {
    const told = book([
      board.received(),
      board.removed('U1', { fate: 'keep', device: 'K1' }),
      ofDevice('K1').deballed({ method: 'fountain' }),
      ofDevice('K1').reballed(),
      board.dressed('U1'),
    ]);
    expect(told.spent('K1')).toBe(4);
    expect(told.holds()).toEqual(['device-excursions devices/K1']);
  });
});

describe('a measured verdict wins over the step', () => {
  const cold = heat(tc('die', 150), tc('joint', 150));
  const hot = heat(tc('die', 230), tc('joint', 230));

  it.each([
    ['removal', board.removed('U1', { heat: cold }), anonymous, []],
    ['placement', board.placed('U1', 'N1', { heat: cold }), 'N1', bare],
    ['touch-up', board.heated('U1', { heat: cold }), anonymous, []],
    ['braid dressing', board.dressed('U1', { heat: heat(tc('joint', 150)) }), anonymous, bare],
    ['aborted heat', board.heated('U1', { purpose: 'aborted', heat: cold }), anonymous, []],
  ])('a cold %s spends nothing', (_, step, device, before) => {
    expect(spends(step, device, before)).toEqual({ site: 0, device: 0 });
    expect(figures(book([came, n1.received(), ...before, step]).site('U1').excursions).possible).toBe(0);
  });

  it('an aborted heat that was measured hot is counted, as measured', () => {
    const told = book([came, board.heated('U1', { purpose: 'aborted', heat: hot })]);
    expect(told.spent(anonymous)).toBe(1);
    expect(bases(told.device(anonymous).excursions)).toEqual(['measured']);
  });

  it('in the oven each subject is judged by its own readings, and the rest by the step', () => {
    const readings = heat(
      tc('joint', 205, { refdes: 'U1' }),
      tc('die', 230, { refdes: 'U2' }),
      tc('joint', 200, { refdes: 'U2' }),
    );
    const told = book([came, board.reflowed({ heat: readings })]);
    const sites = ['U1', 'U2', 'U3'].map((refdes) => figures(told.site(refdes).excursions).used);
    const devices = ['U1', 'U2', 'U3'].map((refdes) => told.spent(`BRD:0001:${refdes}`));
    expect({ sites, devices }).toEqual({ sites: [0, 0, 1], devices: [0, 1, 1] });
    // The unit was measured by joints, and none of them came near.
    expect(figures(told.unit().reflows).used).toBe(0);
  });

  it('a whole-board pass that a board thermocouple shows hot counts for the unit, as measured', () => {
    const told = book([came, board.reflowed({ heat: heat(tc('board', 235)) })]);
    expect(bases(told.unit().reflows)).toEqual(['measured']);
  });
});
