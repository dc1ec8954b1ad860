import { book, ToldBook } from '../../../test/support/domain-book.js';
import { ofDevice, onUnit, said } from '../../../test/support/domain-events.js';
import { rulesOf } from '../../../test/support/domain-rules.js';
import { causeKey } from '../holds/cause.js';

const board = onUnit();
const placed = [
  board.received(),
  board.removed('U1'),
  board.dressed('U1'),
  ofDevice('N1').received(),
  board.placed('U1', 'N1'),
];
const shipped = 'shipped-open BRD/0001';
const openPoints = (told: ToldBook): readonly string[] => told.causes('shipped-open')[0]?.evidence.details ?? [];

describe('shipping', () => {
  it('after a passed inspection of the last placement is clean', () => {
    const told = book([...placed, board.inspected('U1'), board.shipped()]);
    expect(told.holds()).toEqual([]);
    expect(told.unit().status).toBe('shipped');
  });

  it('a board that nothing was placed on needs no inspection', () => {
    expect(book([board.received(), board.shipped()]).holds()).toEqual([]);
  });

  it('without an inspection is shipped open', () => {
    const told = book([...placed, board.shipped()]);
    expect(told.holds()).toEqual([shipped]);
    expect(openPoints(told)).toEqual([expect.stringMatching(/U1.*not inspected/)]);
  });

  it('with an inspection from before the last placement is shipped open', () => {
    const told = book([
      ...placed,
      board.inspected('U1'),
      board.removed('U1'),
      board.dressed('U1'),
      board.inspected('U1'),
      board.placed('U1', 'N2'),
      board.shipped(),
    ]);
    expect(told.holds()).toEqual([shipped]);
  });

  it('with a failed inspection as the last word is shipped open', () => {
    const told = book([...placed, board.inspected('U1', { result: 'fail' }), board.shipped()]);
    expect(told.holds()).toEqual([shipped]);
  });

  it('with a fail after a pass is shipped open, with a pass after a fail it is not', () => {
    const [pass, fail] = [board.inspected('U1'), board.inspected('U1', { result: 'fail' })];
    expect(book([...placed, pass, fail, board.shipped()]).holds()).toEqual([shipped]);
    expect(book([...placed, fail, pass, board.shipped()]).holds()).toEqual([]);
  });

  it('with a fail by one technique is not made clean by a pass of another', () => {
    const other = board.inspected('U1', { technique: 'visual', result: 'fail' });
    expect(book([...placed, other, board.inspected('U1'), board.shipped()]).holds()).toEqual([shipped]);
  });

  it('with an empty site is shipped open', () => {
    const told = book([board.received(), board.removed('U1'), board.shipped()]);
    expect(told.holds()).toEqual([shipped]);
    expect(openPoints(told)).toEqual([expect.stringMatching(/U1/)]);
  });

  it('with a joint that is known to have failed is shipped open, though nobody placed it here', () => {
    const failed = board.inspected('U2', { technique: 'xray', result: 'fail', defects: [{ code: 'bridge' }] });
    const told = book([board.received(), failed, board.shipped()]);
    expect(told.holds()).toEqual([shipped]);
    expect(openPoints(told)).toEqual(['U2 failed its last inspection (xray)']);
    expect(book([board.received(), failed, board.inspected('U2'), board.shipped()]).holds()).toEqual([]);
  });

  it('with an open hold on the unit, a site or a device aboard is shipped open', () => {
    const spent = board.received({ devices: [{ refdes: 'U2', priorExcursions: 4 }] });
    const damage = board.inspected('U2', { result: 'fail', defects: [{ code: 'lifted-pad' }] });
    for (const steps of [[board.received(), board.received()], [spent], [board.received(), damage]]) {
      const told = book([...steps, board.shipped()]);
      expect(told.holds()).toContain(shipped);
      expect(openPoints(told)).toContainEqual(expect.stringMatching(/^hold /));
    }
  });

  it('with a hold on a device that has left the board is clean', () => {
    const spent = board.received({ devices: [{ refdes: 'U1', device: 'D1', priorExcursions: 4 }] });
    const told = book([spent, ...placed.slice(1), board.inspected('U1'), board.shipped()]);
    expect(told.holds()).toEqual(['device-excursions devices/D1']);
  });

  it('with a hold that was released before is clean; released after, it is not', () => {
    const ship = (releasedAt: string): string[] => {
      const told = new ToldBook();
      told.world.standing.push({
        subject: { kind: 'unit', assembly: 'BRD', serial: '0001' },
        unit: { assembly: 'BRD', serial: '0001' },
        reason: 'by-hand',
        raisedAt: '2031-03-01T00:00:00.000000000Z',
        releasedAt,
      });
      return told.tell([board.received(), board.shipped()], rulesOf()).holds();
    };
    expect(ship('2031-03-02T00:00:00.000000000Z')).toEqual([]);
    expect(ship('2031-03-04T00:00:00.000000000Z')).toEqual([shipped]);
  });

  it('with a hold of its own making that was released before is clean', () => {
    const ship = (releasedAt?: string): string[] => {
      const told = new ToldBook().tell([board.received(), board.received()], rulesOf());
      const [cause] = told.world.causes;
      if (cause !== undefined && releasedAt !== undefined) told.world.releases.set(causeKey(cause), releasedAt);
      const left = said(board.shipped(), { time: '2031-03-04T00:00:00Z' });
      return told.tell([left], rulesOf()).holds();
    };
    expect(ship()).toContain(shipped);
    expect(ship('2031-03-03T12:00:00.000000000Z')).not.toContain(shipped);
    expect(ship('2031-03-05T00:00:00.000000000Z')).toContain(shipped);
  });

  it('names every open point, and the way out', () => {
    const told = book([...placed, board.removed('U2'), board.received(), board.shipped()]);
    expect(openPoints(told)).toHaveLength(3);
    expect(told.causes('shipped-open')[0]?.remedy).not.toBe('');
  });
});

describe('an inspection of the whole unit', () => {
  const whole = { target: { kind: 'unit' }, technique: 'electrical' } as const;
  const two = [
    ...placed,
    board.removed('U2'),
    board.dressed('U2'),
    ofDevice('N2').received(),
    board.placed('U2', 'N2'),
  ];

  it('speaks for every site that a device was placed on', () => {
    const told = book([...two, board.inspected('U1', whole), board.shipped()]);
    expect(told.holds()).toEqual([]);
  });

  it('that failed leaves them all open', () => {
    const told = book([...two, board.inspected('U1', { ...whole, result: 'fail' }), board.shipped()]);
    expect(openPoints(told)).toHaveLength(2);
  });

  it('of one site does not speak for the other', () => {
    const told = book([...two, board.inspected('U1'), board.shipped()]);
    expect(openPoints(told)).toEqual([expect.stringMatching(/U2/)]);
  });
});
