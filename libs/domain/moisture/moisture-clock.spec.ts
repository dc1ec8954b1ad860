import { Bake } from './bake.js';
import { looseBake } from './loose-bake.js';
import { MoistureClock, readClock } from './moisture-clock.js';
import { advance, EMPTY_MOISTURE, MoistureFact } from './moisture-ledger.js';
import { MoisturePart } from './moisture-part.js';
import { Storage } from './spell.js';

const DAY0 = Date.UTC(2026, 2, 2);

/** So many hours after the day the stories begin. */
function at(hours: number): string {
  return new Date(DAY0 + hours * 3_600_000).toISOString();
}

function part(msl: MoisturePart['msl'] = '3'): MoisturePart {
  return { msl, lengthMm: 15, widthMm: 15, thicknessMm: 1.7, bga: true };
}

function lies(hour: number, storage: Storage = 'open', ambientC?: number, pct?: number): MoistureFact {
  const air = ambientC === undefined || pct === undefined ? {} : { ambientC, relativeHumidityPct: pct };
  return { kind: 'exposed', at: at(hour), storage, ...air };
}

function baked(from: number, to: number, over: Partial<Bake> = {}): MoistureFact {
  return { kind: 'baked', bake: { of: 'device', temperatureC: 125, startedAt: at(from), endedAt: at(to), ...over } };
}

const SEALED: MoistureFact = { kind: 'dry-pack-sealed', at: at(-1000) };

function clock(facts: readonly MoistureFact[], hour: number, msl: MoisturePart['msl'] = '3'): MoistureClock {
  return readClock(facts.reduce(advance, EMPTY_MOISTURE), part(msl), at(hour));
}

describe('moisture clock', () => {
  it('is unknown where nothing is known', () => {
    expect(clock([], 0)).toMatchObject({ state: 'unknown', usedShare: 0, remainingH: null, expiresAt: null });
  });

  it('is dry in its sealed pack until the shelf life of 12 months ends', () => {
    expect(clock([SEALED], 0)).toMatchObject({ state: 'dry', usedShare: 0, floorLifeH: 168 });
    const old = clock([{ kind: 'dry-pack-sealed', at: at(-8761) }, lies(0)], 1);
    expect(old.state).toBe('unknown');
    expect(old.why).toContain('shelf life');
    expect(clock([{ kind: 'dry-pack-sealed', at: at(-8759) }, lies(0)], 1).state).toBe('running');
  });

  it('runs from the opened pack and runs out at the hour', () => {
    const half = clock([SEALED, lies(0, 'open', 30, 60)], 84);
    expect(half).toMatchObject({ state: 'running', usedShare: 0.5, remainingH: 84 });
    expect(half.expiresAt).toBe('2026-03-09T00:00:00.000000000Z');
    expect(half.basis).toEqual([expect.objectContaining({ hours: 84, lifeH: 168, share: 0.5, source: 'declared' })]);
    const out = clock([SEALED, lies(0, 'open', 30, 60)], 168);
    expect(out).toMatchObject({ state: 'expired', remainingH: 0, expiresAt: '2026-03-09T00:00:00.000000000Z' });
    expect(clock([SEALED, lies(0, 'open', 30, 60)], 500).expiresAt).toBe('2026-03-09T00:00:00.000000000Z');
    expect(out.remedy).toContain('125 C for 17 h');
  });

  it('takes air that nobody measured as 30 C / 60 %RH, and says so', () => {
    const said = clock([SEALED, lies(0)], 84);
    expect(said).toMatchObject({ state: 'running', usedShare: 0.5 });
    expect(said.basis[0]?.source).toBe('assumed');
  });

  it('adds shares where the air changes', () => {
    const facts = [SEALED, lies(0, 'open', 30, 60), lies(84, 'open', 30, 70)];
    expect(clock(facts, 84 + 60)).toMatchObject({ state: 'expired', usedShare: 1 });
    expect(clock(facts, 84 + 30)).toMatchObject({ usedShare: 0.75, remainingH: 30 });
  });

  it('does not run at level 1 and leaves level 6 to its label', () => {
    expect(clock([lies(0)], 9000, '1')).toMatchObject({ state: 'dry', floorLifeH: null });
    expect(clock([SEALED, lies(0)], 1, '6').state).toBe('unknown');
  });

  it('counts a lower bound from an unknown start, which can show by itself that it ran out', () => {
    const short = clock([lies(0, 'open', 30, 60)], 84);
    expect(short).toMatchObject({ state: 'unknown', usedAtLeast: 0.5, remainingH: null, expiresAt: null });
    expect(clock([lies(0, 'open', 30, 60)], 168)).toMatchObject({ state: 'expired', start: { kind: 'unknown' } });
  });

  it('says nothing for certain of time in which nobody said where it lay', () => {
    const facts = [baked(0, 48)];
    expect(clock(facts, 48 + 84)).toMatchObject({ state: 'running', usedShare: 0.5, start: { kind: 'baked' } });
    const long = clock(facts, 48 + 200);
    expect(long).toMatchObject({ state: 'unknown', usedShare: 200 / 168, usedAtLeast: 0 });
    expect(long.basis[0]?.notes[0]).toContain('nobody said');
    expect(long.why).toContain('nobody said where it lay');
  });
});

describe('moisture clock in dry storage (J-STD-033, from memory)', () => {
  const opened = [SEALED, lies(0, 'open', 30, 60)];

  it('pauses levels 2, 2a and 3 at 10 %RH inside the floor life', () => {
    const facts = [...opened, lies(84, 'dry-cabinet', 25, 10)];
    expect(clock(facts, 5000)).toMatchObject({ state: 'paused', usedShare: 0.5, remainingH: null });
    expect(clock([...facts, lies(5000, 'open', 30, 60)], 5042)).toMatchObject({ state: 'running', usedShare: 0.75 });
  });

  it('runs on at 10 %RH for level 4, and pauses for every level in a cabinet of 5 %RH', () => {
    expect(clock([...opened, lies(36, 'dry-cabinet', 30, 10)], 36 + 60, '4')).toMatchObject({ state: 'expired' });
    expect(clock([...opened, lies(36, 'dry-cabinet', 30, 5)], 5000, '4')).toMatchObject({
      state: 'paused',
      usedShare: 0.5,
    });
  });

  it('does not bring a part back that has run out', () => {
    expect(clock([...opened, lies(169, 'dry-cabinet', 25, 5)], 9000)).toMatchObject({ state: 'expired' });
  });

  it.each([
    ['3', 12, 10, 60],
    ['2a', 12, 10, 60],
    ['4', 8, 5, 80],
    ['5a', 8, 5, 80],
  ] as const)('resets level %s after %d h open at %d %%RH for %d h', (msl, openH, pct, dryH) => {
    const facts = [...opened, lies(openH, 'dry-cabinet', 25, pct)];
    expect(clock(facts, openH + dryH, msl)).toMatchObject({
      state: 'dry',
      usedShare: 0,
      start: { kind: 'dry-storage' },
    });
    expect(clock(facts, openH + dryH - 0.1, msl).state).toBe('paused');
    const longer = [...opened, lies(openH + 0.1, 'dry-cabinet', 25, pct)];
    expect(clock(longer, 2000, msl).state).toBe('paused');
  });

  it('does not reset after air worse than 30 C / 60 %RH, nor from an unknown start, nor in pieces', () => {
    const harsh = [SEALED, lies(0, 'open', 31, 60), lies(5, 'dry-cabinet', 25, 5)];
    expect(clock(harsh, 500).state).toBe('paused');
    expect(clock([lies(0), lies(5, 'dry-cabinet', 25, 5)], 500).state).toBe('unknown');
    const pieces = [...opened, lies(4, 'dry-cabinet', 25, 5), lies(20, 'open', 30, 60), lies(21, 'dry-cabinet', 25, 5)];
    expect(clock(pieces, 21 + 24).state).toBe('paused');
    expect(clock(pieces, 21 + 25).state).toBe('dry');
  });

  it('assumes 10 %RH in dry storage of which nobody says how dry it is', () => {
    expect(clock([...opened, lies(84, 'dry-pack')], 2000)).toMatchObject({ state: 'paused', usedShare: 0.5 });
    expect(clock([...opened, lies(12, 'dry-cabinet')], 300, '4').usedShare).toBeGreaterThan(1);
  });
});

describe('moisture clock and bakes', () => {
  it('starts anew after a bake that is long enough for the part', () => {
    const facts = [lies(0), baked(10, 37), lies(37, 'open', 30, 60)];
    expect(clock(facts, 37 + 84)).toMatchObject({ state: 'running', usedShare: 0.5, start: { kind: 'baked' } });
  });

  it('is left as it was by a bake that is too short, and says so', () => {
    const short = clock([lies(0), baked(10, 36), lies(36, 'open', 30, 60)], 40);
    expect(short).toMatchObject({ state: 'unknown', shortBakes: [{ bakedH: 26, neededH: 27 }] });
    expect(short.why).toContain('a bake left it as it was: how long it lay open is unknown');
  });

  it('wants the shorter bake where it is known to be over by up to 72 h, and the longer beyond', () => {
    const over = (hours: number, bakeH: number): string =>
      clock([SEALED, lies(0, 'open', 30, 60), baked(168 + hours, 168 + hours + bakeH)], 168 + hours + bakeH).state;
    expect([over(72, 17), over(73, 17), over(73, 27)]).toEqual(['running', 'expired', 'running']);
  });

  it('judges one ledger by each part: the thicker one needs the longer bake', () => {
    const ledger = [lies(0), baked(10, 37)].reduce(advance, EMPTY_MOISTURE);
    expect(readClock(ledger, part(), at(38)).state).toBe('running');
    expect(readClock(ledger, { ...part(), thicknessMm: 2.3 }, at(38)).state).toBe('unknown');
    expect(readClock(ledger, { ...part(), thicknessMm: 5 }, at(38)).remedy).toContain("Ask the part's maker");
  });

  it('puts a bake that is told late where it belongs', () => {
    const inOrder = [lies(0), baked(10, 37), lies(37, 'open', 25, 50), lies(60, 'open', 30, 60)];
    const late = [lies(0), lies(37, 'open', 25, 50), lies(60, 'open', 30, 60), baked(10, 37)];
    expect(clock(late, 80)).toEqual(clock(inOrder, 80));
    expect(clock(late, 80)).toMatchObject({ state: 'running', start: { kind: 'baked' } });
  });

  it('lets the last storage told during a bake hold from its end', () => {
    const told = clock([lies(0), lies(36.9, 'dry-cabinet', 25, 5), baked(10, 37)], 500);
    expect(told).toMatchObject({ state: 'dry', start: { kind: 'baked' } });
    expect(clock([lies(0), baked(10, 37), lies(36.9, 'dry-cabinet', 25, 5)], 500)).toEqual(told);
  });

  it('does not count a bake before it has ended', () => {
    expect(clock([lies(0), baked(10, 37)], 36).state).toBe('unknown');
  });

  it('adds up hot bakes of loose parts only', () => {
    const facts = [
      baked(0, 50),
      baked(60, 110),
      baked(120, 220, { of: 'unit' }),
      baked(300, 900, { temperatureC: 90 }),
    ];
    const ledger = facts.reduce(advance, EMPTY_MOISTURE);
    expect(looseBake(ledger)).toMatchObject({ usedH: 100, allowedH: 96, remainingH: 0, exceeded: true });
    expect(looseBake(EMPTY_MOISTURE)).toMatchObject({ usedH: 0, remainingH: 96, exceeded: false });
  });
});
