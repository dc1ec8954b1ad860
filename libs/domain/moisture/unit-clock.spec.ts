import { isKnownDry, needsDryBoard } from './dry-for-heat.js';
import { MoistureClock, readClock, unknownClock } from './moisture-clock.js';
import { advance, EMPTY_MOISTURE, MoistureFact } from './moisture-ledger.js';
import { unitClock } from './unit-clock.js';

const UNKNOWN = unknownClock('its part is not set up', 'Set up the part.');
const SEALED: MoistureFact = { kind: 'dry-pack-sealed', at: '2026-03-01T00:00:00Z' };
const OPEN: MoistureFact = {
  ...{ kind: 'exposed', at: '2026-03-02T00:00:00Z', storage: 'open' },
  ...{ ambientC: 30, relativeHumidityPct: 60 },
};

function clock(
  msl: '1' | '2a' | '3' | '4',
  facts: readonly MoistureFact[],
  asOf = '2026-03-04T00:00:00Z',
): MoistureClock {
  const part = { msl, lengthMm: 15, widthMm: 15, thicknessMm: 1.7, bga: true };
  return readClock(facts.reduce(advance, EMPTY_MOISTURE), part, asOf);
}

function boardBake(temperatureC: number, hours: number): MoistureFact {
  const endedAt = new Date(Date.UTC(2026, 2, 2) + hours * 3_600_000).toISOString();
  return { kind: 'baked', bake: { of: 'unit', temperatureC, startedAt: '2026-03-02T00:00:00Z', endedAt } };
}

describe('clock of a unit', () => {
  const slow = { device: 'U1', clock: clock('3', [SEALED, OPEN]) };
  const fast = { device: 'U2', clock: clock('4', [SEALED, OPEN]) };
  const gone = { device: 'U3', clock: clock('4', [SEALED, OPEN], '2026-03-06T00:00:00Z') };
  const unknown = { device: 'U4', clock: UNKNOWN };

  it('is that of the device which runs out first, in whatever order they are told', () => {
    const unit = unitClock([slow, fast]);
    expect(unit).toMatchObject({ state: 'running', governing: { device: 'U2' }, remainingH: 24, boardDry: true });
    expect(unit.expiresAt).toBe('2026-03-05T00:00:00.000000000Z');
    expect(unitClock([fast, slow])).toEqual(unit);
  });

  it('is expired by any device that is known to be', () => {
    expect(unitClock([slow, unknown, gone])).toMatchObject({ state: 'expired', expired: ['U3'], unknown: ['U4'] });
  });

  it('is unknown, not bad, with a device that is unknown, and still tells of the others', () => {
    const unit = unitClock([slow, unknown]);
    expect(unit).toMatchObject({ state: 'unknown', governing: { device: 'U1' }, unknown: ['U4'], boardDry: false });
    expect(unit).toMatchObject({ why: 'U4: its part is not set up', remedy: 'Set up the part.' });
  });

  it('is dry where nothing runs, and unknown without devices', () => {
    expect(unitClock([{ device: 'U1', clock: clock('1', []) }]).state).toBe('dry');
    expect(unitClock([])).toMatchObject({ state: 'unknown', governing: null, boardDry: false });
  });
});

describe('dry for heat', () => {
  it('is needed above 200 C at the body (J-STD-033, published)', () => {
    expect([200, 200.1].map((peakC) => needsDryBoard(peakC).needed)).toEqual([false, true]);
    expect(() => needsDryBoard(NaN)).toThrow(RangeError);
  });

  it('is known within the floor life, and not where it is unknown or over', () => {
    expect(isKnownDry(clock('3', [SEALED, OPEN]))).toMatchObject({ dry: true, by: 'floor-life', remedy: null });
    expect(isKnownDry(clock('3', [OPEN]))).toMatchObject({ dry: false, by: null });
    expect(isKnownDry(clock('3', [SEALED, OPEN], '2026-03-20T00:00:00Z'))).toMatchObject({ dry: false });
    expect(isKnownDry(UNKNOWN).remedy).toBe('Set up the part.');
  });

  it.each([
    [125, 24, true],
    [125, 23, true],
    [125, 7, false],
    [105, 8, true],
    [105, 7.9, false],
    [100, 24, false],
  ])('takes the bake that shops give a board (published practice): %d C for %d h', (temperatureC, hours, dry) => {
    const baked = clock('3', [boardBake(temperatureC, hours)], '2026-03-03T01:00:00Z');
    expect(baked.state).toBe('unknown');
    expect(isKnownDry(baked)).toMatchObject({ dry, by: dry ? 'board-bake' : null });
  });

  it('does not hold a board dry by practice for longer than the floor life after the bake', () => {
    expect(isKnownDry(clock('3', [boardBake(125, 24)], '2026-03-11T00:00:00Z')).dry).toBe(false);
    expect(isKnownDry(unitClock([{ device: 'U1', clock: clock('3', [boardBake(125, 24)]) }])).by).toBe('board-bake');
  });
});
