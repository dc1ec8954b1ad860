import { book } from '../../../test/support/domain-book.js';
import { Draft, heat, ofDevice, onUnit, said, tc } from '../../../test/support/domain-events.js';
import { limitRule, partData, rulesOf } from '../../../test/support/domain-rules.js';

const board = onUnit();
const chip = ofDevice('N1');
const came = board.received({ sites: [{ refdes: 'U1', priorReworks: 0 }] });
/** 125 C for 24 h: common practice for boards, published. */
const baked = board.baked({ temperatureC: 125, startedAt: '2031-03-01T06:00:00Z', endedAt: '2031-03-02T06:00:00Z' });
const opened = (at: string): Draft =>
  said(chip.exposed({ storage: 'open', ambientC: 30, relativeHumidityPct: 60 }), { time: at });
const sealed = said(chip.received({ packSealedAt: '2031-02-01T00:00:00Z' }), { time: '2031-02-20T00:00:00Z' });

/** The board made ready, the device out of its bag since then, and placed on 3 March. */
function placedAfter(openedAt: string): ReturnType<typeof book> {
  const placed = said(board.placed('U1', 'N1'), { time: '2031-03-03T12:00:00Z' });
  return book([sealed, opened(openedAt), came, baked, board.removed('U1'), board.dressed('U1'), placed]);
}

describe('floor life (J-STD-033: MSL 3 has 168 h at 30 C / 60 %RH)', () => {
  it('holds a device that is placed after it has run out', () => {
    const [cause, ...others] = placedAfter('2031-02-24T11:00:00Z').causes('floor-life');
    expect(others).toEqual([]);
    expect(cause?.subject).toEqual({ kind: 'device', device: 'N1' });
    expect(cause?.evidence.summary).toContain('used up');
  });

  it('holds nothing within it', () => {
    expect(placedAfter('2031-02-25T13:00:00Z').holds()).toEqual([]);
  });

  it('holds nothing where nobody knows: unknown is not run out', () => {
    const told = book([
      came,
      baked,
      board.removed('U1'),
      board.dressed('U1'),
      chip.received(),
      board.placed('U1', 'N1'),
    ]);
    expect(told.holds()).toEqual([]);
  });

  it('does not hold a removal to scrap, but one of a device that is kept', () => {
    const long = said(board.exposed({ storage: 'open', ambientC: 30, relativeHumidityPct: 60 }), {
      time: '2031-02-01T00:00:00Z',
    });
    expect(book([long, came, board.removed('U1')]).causes('floor-life')).toEqual([]);
    const kept = book([long, came, board.removed('U1', { fate: 'keep', device: 'K1' })]);
    expect(kept.causes('floor-life')).toMatchObject([{ subject: { kind: 'device', device: 'K1' } }]);
  });

  it('holds a board that is reflowed after the floor life of a device on it', () => {
    const long = said(board.exposed({ storage: 'open', ambientC: 30, relativeHumidityPct: 60 }), {
      time: '2031-02-01T00:00:00Z',
    });
    expect(book([long, came, board.reflowed()]).holds()).toEqual(['floor-life BRD/0001']);
    expect(book([came, baked, board.reflowed()]).holds()).toEqual([]);
  });

  it('takes what a device has lain in along when it is removed', () => {
    const kept = board.removed('U1', { fate: 'keep', device: 'K1' });
    const told = book([came, baked, kept, said(ofDevice('K1').reballed(), { time: '2031-03-20T00:00:00Z' })]);
    expect(told.device('K1').moisture.spells.map(({ kind }) => kind)).toContain('baked');
  });
});

describe('a body above 200 C in local rework (J-STD-033, published)', () => {
  const hot = { heat: heat(tc('joint', 236), tc('body', 201)) };

  it('is warned about on a board that is not known to be dry', () => {
    expect(book([came, board.removed('U1', hot)]).warnings()).toEqual(['floor-life BRD/0001']);
  });

  it('is in order on a board that was baked as boards are', () => {
    expect(book([came, baked, board.removed('U1', hot)]).warnings()).toEqual([]);
  });

  it('asks nothing at 200 C', () => {
    const warm = { heat: heat(tc('joint', 236), tc('body', 200)) };
    expect(book([came, board.removed('U1', warm)]).warnings()).toEqual([]);
  });
});

describe('body peak against the class temperature (J-STD-020 D/E, Table 4-2: 17 x 17 x 1.6 mm has 250 C)', () => {
  const at = (peakC: number, more: object = {}): string[] =>
    book([came, baked, board.heated('U1', { heat: heat(tc('joint', 236), tc('body', peakC)) })], rulesOf(more)).holds();

  it('holds the device above it, and not at it', () => {
    expect(at(250)).toEqual([]);
    expect(at(250.1)).toEqual(['body-peak-max devices/BRD:0001:U1']);
  });

  it("takes the maker's own class", () => {
    expect(at(246, { part: { CHIP: partData({ classificationC: 245 }) } })).toEqual([
      'body-peak-max devices/BRD:0001:U1',
    ]);
  });

  it('allows what the limit allows above it', () => {
    expect(at(252, { limit: { ours: limitRule('body-peak-max', { allowed: 5, scope: { part: 'CHIP' } }) } })).toEqual(
      [],
    );
  });

  it('does not hold a device that is removed to scrap', () => {
    const removed = board.removed('U1', { heat: heat(tc('joint', 236), tc('body', 270)) });
    expect(book([came, baked, removed]).holds()).toEqual([]);
  });

  it('judges a neighbour by its own readings', () => {
    const beside = heat(tc('joint', 236), tc('body', 251, { refdes: 'U2' }));
    const told = book([came, baked, board.heated('U1', { heat: beside })]);
    expect(told.holds()).toEqual(['body-peak-max devices/BRD:0001:U2']);
  });
});
