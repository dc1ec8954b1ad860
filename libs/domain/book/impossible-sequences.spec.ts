import { book, figures } from '../../../test/support/domain-book.js';
import { ofDevice, onUnit } from '../../../test/support/domain-events.js';
import { boardDesign, rulesOf } from '../../../test/support/domain-rules.js';

const board = onUnit('BRD/0001');
const other = onUnit('BRD/0002');
const n1 = ofDevice('N1');
const fitted = [board.received(), board.removed('U1'), board.dressed('U1'), n1.received(), board.placed('U1', 'N1')];

describe('a device in two places', () => {
  it('placed on a second board while on the first: recorded, and an identity conflict', () => {
    const told = book([
      ...fitted,
      other.received(),
      other.removed('U1'),
      other.dressed('U1'),
      other.placed('U1', 'N1'),
    ]);
    expect(told.holds()).toEqual(['identity-conflict devices/N1']);
    expect(told.where('N1')).toBe('BRD/0002#U1');
    expect(told.spent('N1')).toBe(2);
  });

  it('is told of by name on another board of the same customer only: a ledger goes to whom the board belongs', () => {
    const foreign = onUnit('OTHER/0001');
    const moved = [
      ...fitted,
      foreign.received(),
      foreign.removed('U1'),
      foreign.dressed('U1'),
      foreign.placed('U1', 'N1'),
    ];
    const told = (customer: string): string => {
      const rules = rulesOf({ assembly: { OTHER: boardDesign({ customer }) } });
      return JSON.stringify(book(moved, rules).causes('identity-conflict'));
    };
    expect(told('NORTH')).toContain('on U1 of BRD/0001');
    expect(told('SOUTH')).toContain('on a unit of another customer');
    expect(told('SOUTH')).not.toContain('BRD');
  });

  it('is heated where it was put last, not where the book had it before', () => {
    const moved = [...fitted, other.received(), other.removed('U1'), other.dressed('U1'), other.placed('U1', 'N1')];
    expect(book([...moved, board.heated('U1')]).spent('N1')).toBe(2);
    expect(book([...moved, other.heated('U1')]).spent('N1')).toBe(3);
  });

  it('placed on a second site of the same board', () => {
    const told = book([...fitted, board.removed('U2'), board.dressed('U2'), board.placed('U2', 'N1')]);
    expect(told.holds()).toEqual(['identity-conflict devices/N1']);
  });

  it('placed by the name of the device that came on another site and that nobody has touched', () => {
    const told = book([board.received(), board.removed('U1'), board.dressed('U1'), board.placed('U1', 'BRD:0001:U4')]);
    expect(told.holds()).toEqual(['identity-conflict devices/BRD:0001:U4']);
  });

  it('placed by the name that it bore before its label was read', () => {
    const told = book([
      board.received(),
      board.removed('U1', { fate: 'keep', device: 'K1' }),
      board.dressed('U1'),
      board.placed('U1', 'K1'),
      board.removed('U2'),
      board.dressed('U2'),
      board.placed('U2', 'BRD:0001:U1'),
    ]);
    expect(told.holds().some((hold) => hold.startsWith('identity-conflict'))).toBe(true);
  });

  it('declared on a board that comes in, while the book has it on another', () => {
    const told = book([...fitted, other.received({ devices: [{ refdes: 'U2', device: 'N1' }] })]);
    expect(told.holds()).toEqual(['identity-conflict devices/N1']);
    expect(told.where('N1')).toBe('BRD/0002#U2');
  });

  it('declared on two sites of one board', () => {
    const devices = ['U1', 'U2'].map((refdes) => ({ refdes, device: 'D1' }));
    expect(book([board.received({ devices })]).holds()).toEqual(['identity-conflict devices/D1']);
  });

  it('received on its own while it is on a board', () => {
    expect(book([...fitted, n1.received()]).holds()).toEqual(['identity-conflict devices/N1']);
  });

  it('removed under another name than the book has there; the name that was read is in the book from then on', () => {
    const told = book([...fitted, board.removed('U1', { device: 'X9', fate: 'keep' })]);
    expect(told.holds()).toEqual(['identity-conflict devices/X9']);
    expect(told.site('U1').device).toBeNull();
    expect(told.world.devices.get('X9')?.excursions.prior).toEqual({ count: 0, basis: 'unknown' });
  });

  it('removed from a site that is empty in the book, while it is on another', () => {
    const told = book([...fitted, board.removed('U2'), board.removed('U2', { device: 'N1' })]);
    expect(told.holds()).toEqual(['identity-conflict devices/N1', 'sequence-broken BRD/0001#U2']);
  });

  it('removed from an empty site under a name first heard of: it is in the book from then on, its past unknown', () => {
    const told = book([board.received(), board.removed('U1'), board.removed('U1', { device: 'X9', fate: 'keep' })]);
    expect(told.world.devices.get('X9')?.excursions.prior).toEqual({ count: 0, basis: 'unknown' });
  });

  it('inspected on a site where the book has another', () => {
    const target = { kind: 'device', refdes: 'U2', device: 'N1' } as const;
    const told = book([...fitted, board.inspected('U2', { target })]);
    expect(told.holds()).toEqual(['identity-conflict devices/N1']);
  });
});

describe('steps at the wrong site', () => {
  it('placing on an occupied site: recorded, and the sequence is broken', () => {
    const told = book([board.received(), n1.received(), board.placed('U1', 'N1')]);
    expect(told.holds()).toEqual(['sequence-broken BRD/0001#U1']);
    expect(told.site('U1').device).toBe('N1');
    expect(told.where('BRD:0001:U1')).toBe('loose');
    expect(told.spent('N1')).toBe(1);
  });

  it('dressing an occupied site: recorded, and the sequence is broken', () => {
    const told = book([board.received(), board.dressed('U1')]);
    expect(told.holds()).toEqual(['sequence-broken BRD/0001#U1']);
    expect(figures(told.site('U1').dressings).used).toBe(1);
    expect(told.site('U1').device).toBe('BRD:0001:U1');
  });

  it('removing from an empty site: recorded, and the sequence is broken', () => {
    const told = book([board.received(), board.removed('U1'), board.removed('U1')]);
    expect(told.holds()).toEqual(['sequence-broken BRD/0001#U1']);
    expect(figures(told.site('U1').reworks).used).toBe(2);
    expect(told.spent('BRD:0001:U1')).toBe(2);
  });

  it('placing on a site that was not dressed is warned about only', () => {
    const told = book([
      board.received({ sites: [{ refdes: 'U1', priorReworks: 0 }] }),
      board.removed('U1'),
      n1.received(),
      board.placed('U1', 'N1'),
    ]);
    expect(told.holds()).toEqual([]);
    expect(told.warnings()).toEqual(['site-not-dressed BRD/0001#U1']);
  });

  it('placing another part than the site is for is warned about only', () => {
    const told = book([
      board.received({ sites: [{ refdes: 'U1', priorReworks: 0 }] }),
      board.removed('U1'),
      board.dressed('U1'),
      n1.received({ part: 'OTHER' }),
      board.placed('U1', 'N1'),
    ]);
    expect(told.holds()).toEqual([]);
    expect(told.warnings()).toContain('part-differs BRD/0001#U1');
  });

  it('placing the same device again where it is: broken once, by the site, not by its identity', () => {
    expect(book([...fitted, board.placed('U1', 'N1')]).holds()).toEqual(['sequence-broken BRD/0001#U1']);
  });
});

describe('work on what has left', () => {
  it.each([
    ['shipped', board.shipped()],
    ['scrapped', board.scrapped()],
  ])('a unit that was %s: recorded, and the sequence is broken', (_, leaving) => {
    const told = book([board.received(), leaving, board.heated('U1')]);
    expect(told.holds()).toContain('sequence-broken BRD/0001');
    expect(told.spent('BRD:0001:U1')).toBe(2);
  });

  it('a unit that came back may be worked on', () => {
    const told = book([board.received(), board.shipped(), board.received(), board.heated('U1')]);
    expect(told.holds()).toEqual([]);
    expect(told.unit().status).toBe('in-house');
  });

  it('a unit that was received twice without leaving breaks the sequence', () => {
    expect(book([board.received(), board.received()]).holds()).toEqual(['sequence-broken BRD/0001']);
  });

  it('a unit that was scrapped cannot be received again', () => {
    expect(book([board.received(), board.scrapped(), board.received()]).holds()).toEqual(['sequence-broken BRD/0001']);
  });

  it('a unit that was never received is warned about only', () => {
    const told = book([board.cleaned('U1')]);
    expect(told.holds()).toEqual([]);
    expect(told.warnings()).toEqual(['not-received BRD/0001']);
    expect(told.unit().status).toBe('expected');
  });

  it('a device that was scrapped and then placed, deballed or reballed breaks the sequence', () => {
    const gone = [n1.received(), n1.scrapped()];
    for (const step of [n1.deballed(), n1.reballed()]) {
      expect(book([...gone, step]).holds()).toEqual(['sequence-broken devices/N1']);
    }
    const placed = book([
      ...gone,
      board.received(),
      board.removed('U1'),
      board.dressed('U1'),
      board.placed('U1', 'N1'),
    ]);
    expect(placed.holds()).toEqual(['sequence-broken devices/N1']);
    expect(placed.where('N1')).toBe('BRD/0001#U1');
  });

  it('a device that is on a board and was deballed, reballed or scrapped breaks the sequence', () => {
    for (const step of [n1.deballed(), n1.reballed(), n1.scrapped()]) {
      expect(book([...fitted, step]).holds()).toEqual(['sequence-broken devices/N1']);
    }
  });

  it('a device that nobody has touched on its board, too', () => {
    const told = book([board.received(), ofDevice('BRD:0001:U4').deballed()]);
    expect(told.holds()).toEqual(['sequence-broken devices/BRD:0001:U4']);
  });
});
