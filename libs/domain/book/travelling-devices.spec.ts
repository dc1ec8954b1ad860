import { bases, book } from '../../../test/support/domain-book.js';
import { heat, ofDevice, onUnit, tc } from '../../../test/support/domain-events.js';

const first = onUnit('BRD/0001');
const second = onUnit('BRD/0002');
const k1 = ofDevice('K1');
const kept = [first.received(), first.removed('U1', { fate: 'keep', device: 'K1' })];

describe('a device that came without a name', () => {
  it('is named after its place, and takes its name and past from the label read at removal', () => {
    const told = book(kept);
    expect(told.device('K1')).toMatchObject({ status: 'loose', place: null, part: 'CHIP' });
    expect(told.device('K1').excursions.prior).toEqual({ count: 1, basis: 'assumed' });
    expect(told.spent('K1')).toBe(2);
    expect(told.device('BRD:0001:U1')).toMatchObject({ status: 'renamed', knownAs: 'K1', place: null });
  });

  it('keeps the heats that it saw under its former name', () => {
    const told = book([
      first.received(),
      first.heated('U1'),
      first.removed('U1', { fate: 'keep', device: 'K1', heat: heat(tc('die', 230)) }),
    ]);
    expect(bases(told.device('K1').excursions)).toEqual(['inferred', 'measured']);
  });

  it('can be named at the receipt of the board', () => {
    const told = book([
      first.received({ devices: [{ refdes: 'U1', device: 'K1' }] }),
      first.removed('U1', { device: 'K1' }),
    ]);
    expect(told.device('K1')).toMatchObject({ status: 'scrapped' });
    expect(told.spent('K1')).toBe(2);
    expect(told.holds()).toEqual([]);
  });

  it('keeps its name after its place where no label was read', () => {
    const told = book([first.received(), first.removed('U1', { fate: 'keep' })]);
    expect(told.where('BRD:0001:U1')).toBe('loose');
    expect(told.spent('BRD:0001:U1')).toBe(2);
  });

  it('leaves behind a record that no later warning about it is written to', () => {
    const told = book([...kept, k1.received({ part: 'UNHEARD' })]);
    expect(told.device('K1').warnings.map(({ code }) => code)).toEqual(['part-unknown']);
    expect(told.device('BRD:0001:U1').warnings).toEqual([]);
  });

  it('leaves behind a record that does not follow it to other boards', () => {
    const told = book([...kept, second.received(), second.removed('U2'), second.placed('U2', 'K1')]);
    expect(told.device('K1').unitsSeen).toEqual(['BRD/0001', 'BRD/0002']);
    expect(told.device('BRD:0001:U1').unitsSeen).toEqual(['BRD/0001']);
  });
});

describe('a device that travels', () => {
  const journey = [
    ...kept,
    k1.deballed({ method: 'braid', heat: heat(tc('die', 150)) }),
    k1.reballed({ ballAlloy: 'Sn63Pb37', heat: heat(tc('die', 170)) }),
    second.received(),
    second.removed('U2'),
    second.dressed('U2'),
    second.placed('U2', 'K1', { heat: heat(tc('joint', 230)) }),
  ];

  it('goes from board to bench to another board, and the book follows', () => {
    const told = book(journey);
    expect(told.where('K1')).toBe('BRD/0002#U2');
    expect(told.site('U1', 'BRD/0001').device).toBeNull();
    expect(told.site('U2', 'BRD/0002').device).toBe('K1');
    expect(told.holds()).toEqual([]);
  });

  it('takes its heat history along: assumed build 1, removal 1, bench 0, placement 1', () => {
    const told = book(journey);
    expect(told.spent('K1')).toBe(3);
    expect(told.device('K1').excursions.counted.map(({ unit, refdes }) => `${String(unit)}#${String(refdes)}`)).toEqual(
      ['BRD/0001#U1', 'BRD/0002#U2'],
    );
  });

  it('brings its balls: the joint it makes melts where they do (Sn63Pb37 183 C, from solder makers)', () => {
    const told = book([...journey, second.heated('U2', { heat: heat(tc('joint', 178)) })]);
    expect(told.site('U2', 'BRD/0002').alloys).toEqual(['Sn63Pb37', 'SAC305']);
    expect(told.spent('K1')).toBe(4);
    expect(told.holds()).toEqual(['device-excursions devices/K1']);
  });

  it('leaves the site its own history', () => {
    const told = book([...journey, second.removed('U2'), second.placed('U2', 'N1')]);
    expect(told.spent('N1')).toBe(1);
    expect(told.device('K1').status).toBe('scrapped');
  });

  it('is told of the balls: taken off, put on anew', () => {
    expect(book(kept).device('K1').balls).toEqual({ state: 'as-made' });
    expect(book([...kept, k1.deballed()]).device('K1').balls).toEqual({ state: 'none' });
    expect(book([...kept, k1.deballed(), k1.reballed({ ballAlloy: 'SAC405' })]).device('K1').balls).toEqual({
      state: 'reballed',
      alloy: 'SAC405',
    });
  });

  it('may go back to the site that it came from', () => {
    const told = book([...kept, first.dressed('U1'), first.placed('U1', 'K1')]);
    expect(told.where('K1')).toBe('BRD/0001#U1');
    expect(told.holds()).toEqual([]);
  });

  it('is heated no more by what happens to a board it has left', () => {
    const told = book([...kept, first.reflowed()]);
    expect(told.spent('K1')).toBe(2);
  });

  it('is scrapped on the bench', () => {
    const told = book([...kept, k1.scrapped()]);
    expect(told.device('K1')).toMatchObject({ status: 'scrapped', place: null });
    expect(told.holds()).toEqual([]);
  });
});
