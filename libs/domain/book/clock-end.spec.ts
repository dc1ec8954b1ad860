import { book, ToldBook } from '../../../test/support/domain-book.js';
import { Draft, ofDevice, onUnit, said } from '../../../test/support/domain-events.js';
import { partData, rulesOf } from '../../../test/support/domain-rules.js';
import { ClockEnd, clockEndOfDevice, clockEndOfUnit } from './clock-end.js';

const board = onUnit();
const chip = ofDevice('N1');
const rules = rulesOf({ part: { FAST: partData({ msl: '5' }) } });
/** 17 x 17 x 1.6 mm of level 3: 48 h at 125 C are enough whatever it took up. 168 h from its end. */
const baked = board.baked({ temperatureC: 125, startedAt: '2031-03-01T06:00:00Z', endedAt: '2031-03-03T06:00:00Z' });
const BOARD_END = '2031-03-10T06:00:00Z';
const sealed = said(chip.received({ packSealedAt: '2031-02-01T00:00:00Z' }), { time: '2031-02-20T00:00:00Z' });
const opened: Draft = said(chip.exposed({ storage: 'open', ambientC: 30, relativeHumidityPct: 60 }), {
  time: '2031-03-01T12:00:00Z',
});

function endOfUnit(told: ToldBook): ClockEnd | null {
  return clockEndOfUnit(told.world, rules, told.unit());
}

describe('end of the floor life of what is in the house', () => {
  it('is that of the devices aboard from the bake on', () => {
    expect(endOfUnit(book([board.received(), baked], rules))).toMatchObject({ endsAt: BOARD_END });
    expect(endOfUnit(book([board.received()], rules))).toBeNull();
  });

  it('is that of the device which runs out first', () => {
    const placed = said(board.placed('U1', 'N1'), { time: '2031-03-04T06:00:00Z' });
    const told = book(
      [sealed, opened, board.received(), baked, board.removed('U1'), board.dressed('U1'), placed],
      rules,
    );
    expect(endOfUnit(told)).toMatchObject({ device: 'N1', endsAt: '2031-03-08T12:00:00Z' });
    const other = book(
      [
        said(chip.received({ part: 'FAST', packSealedAt: '2031-02-01T00:00:00Z' }), { time: '2031-02-20T00:00:00Z' }),
        said(opened, { time: '2031-03-03T12:00:00Z' }),
        board.received(),
        baked,
        board.removed('U1'),
        board.dressed('U1'),
        placed,
      ],
      rules,
    );
    // Level 5: 48 h.
    expect(endOfUnit(other)).toMatchObject({ device: 'N1', endsAt: '2031-03-05T12:00:00Z' });
  });

  it('is none once the unit has left', () => {
    const left = said(board.shipped(), { time: '2031-03-04T06:00:00Z' });
    expect(endOfUnit(book([board.received(), baked, left], rules))).toBeNull();
  });

  it('is a device’s own while it is loose, and its unit’s while it is mounted', () => {
    const loose = book([sealed, opened], rules);
    expect(clockEndOfDevice(rules, loose.device('N1'))).toMatchObject({ device: 'N1', endsAt: '2031-03-08T12:00:00Z' });
    const placed = said(board.placed('U1', 'N1'), { time: '2031-03-04T06:00:00Z' });
    const told = book(
      [sealed, opened, board.received(), baked, board.removed('U1'), board.dressed('U1'), placed],
      rules,
    );
    expect(clockEndOfDevice(rules, told.device('N1'))).toBeNull();
  });

  it('is none for a part that the setup does not have', () => {
    const stranger = said(chip.received({ part: 'UNHEARD', packSealedAt: '2031-02-01T00:00:00Z' }), {
      time: '2031-02-20T00:00:00Z',
    });
    expect(clockEndOfDevice(rules, book([stranger, opened], rules).device('N1'))).toBeNull();
  });
});
