import fc from 'fast-check';
import { FloorLifeEnd, floorLifeEnd } from './floor-life-end.js';
import { readClock } from './moisture-clock.js';
import { advance, EMPTY_MOISTURE, MoistureFact, MoistureLedger } from './moisture-ledger.js';
import { MoisturePart } from './moisture-part.js';
import { Storage } from './spell.js';

const DAY0 = Date.UTC(2026, 2, 2);

/** So many hours after the day the stories begin. */
function at(hours: number): string {
  return new Date(DAY0 + hours * 3_600_000).toISOString();
}

function instant(hours: number): string {
  return `${at(hours).slice(0, 19)}Z`;
}

function part(msl: MoisturePart['msl'] = '3'): MoisturePart {
  return { msl, lengthMm: 15, widthMm: 15, thicknessMm: 1.7, bga: true };
}

function lies(hour: number, storage: Storage = 'open', ambientC = 30, relativeHumidityPct = 60): MoistureFact {
  return { kind: 'exposed', at: at(hour), storage, ambientC, relativeHumidityPct };
}

function boardBake(from: number, to: number): MoistureFact {
  return { kind: 'baked', bake: { of: 'unit', temperatureC: 125, startedAt: at(from), endedAt: at(to) } };
}

function told(facts: readonly MoistureFact[]): MoistureLedger {
  return facts.reduce(advance, EMPTY_MOISTURE);
}

function end(facts: readonly MoistureFact[], msl: MoisturePart['msl'] = '3'): FloorLifeEnd | null {
  return floorLifeEnd(told(facts), part(msl));
}

const SEALED: MoistureFact = { kind: 'dry-pack-sealed', at: at(-1000) };

describe('end of a floor life', () => {
  it('is where the open time has used it up; a fifth of it before, it is warned of', () => {
    // MSL 3 at 30 C / 60 %RH: 168 h, a fifth of it 33.6 h.
    expect(end([SEALED, lies(0)])).toEqual({ warnsAt: instant(168 - 33.6), endsAt: instant(168) });
    // MSL 5a, group A, at 25 C / 60 %RH: 48 h.
    expect(end([SEALED, lies(0, 'open', 25, 60)], '5a')).toEqual({ warnsAt: instant(38.4), endsAt: instant(48) });
  });

  it('is pushed on by a bake and by time in dry storage', () => {
    expect(end([SEALED, lies(0), boardBake(100, 148)])?.endsAt).toBe(instant(148 + 168));
    const dry = [SEALED, lies(0), lies(84, 'dry-cabinet', 25, 5)];
    expect(end(dry)).toBeNull();
    expect(end([...dry, lies(184)])?.endsAt).toBe(instant(184 + 84));
  });

  it('is none where nothing is known, nothing runs or nothing can run out', () => {
    expect(end([])).toBeNull();
    expect(end([lies(0)])).toBeNull();
    expect(end([SEALED])).toBeNull();
    expect(end([SEALED, lies(0)], '1')).toBeNull();
    expect(end([SEALED, lies(0)], '6')).toBeNull();
    expect(end([{ kind: 'dry-pack-sealed', at: at(-8761) }, lies(0)])).toBeNull();
  });

  it('counts time of which nobody said where it lay as open, from the end of the bake', () => {
    expect(end([boardBake(0, 48)])?.endsAt).toBe(instant(48 + 168));
    expect(readClock(told([boardBake(0, 48)]), part(), at(48 + 167)).state).toBe('running');
    expect(readClock(told([boardBake(0, 48)]), part(), at(48 + 169)).state).toBe('unknown');
  });

  it('stays where it was once it has passed, whatever air is told of afterwards', () => {
    const passed = [SEALED, lies(0), lies(200, 'dry-cabinet', 25, 5), lies(300)];
    expect(end(passed)?.endsAt).toBe(instant(168));
  });

  it('does not move though the same air is told again, and is where the clock says it is', () => {
    const air = fc.record({ ambientC: fc.integer({ min: 18, max: 35 }), pct: fc.integer({ min: 25, max: 90 }) });
    const minutes = fc.uniqueArray(fc.integer({ min: 1, max: 30 * 24 * 60 }), { maxLength: 6 });
    const level = fc.constantFrom<MoisturePart['msl']>('2a', '3', '4', '5', '5a');
    fc.assert(
      fc.property(air, minutes, level, ({ ambientC, pct }, again, msl) => {
        const open = (hour: number): MoistureFact => lies(hour, 'open', ambientC, pct);
        const once = end([SEALED, open(0)], msl);
        const later = again.sort((a, b) => a - b).map((minute) => open(minute / 60));
        expect(end([SEALED, open(0), ...later], msl)).toMatchObject(once === null ? {} : { endsAt: once.endsAt });
        const clock = readClock(told([SEALED, open(0)]), part(msl), at(1));
        if (once === null) expect(clock.expiresAt).toBeNull();
        else expect(Math.abs(Date.parse(once.endsAt) - Date.parse(clock.expiresAt ?? ''))).toBeLessThanOrEqual(500);
      }),
    );
  });
});
