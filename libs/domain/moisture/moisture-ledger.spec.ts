import fc from 'fast-check';
import { Bake } from './bake.js';
import { readClock } from './moisture-clock.js';
import {
  advance,
  continuedAboard,
  EMPTY_MOISTURE,
  MAX_SPELLS,
  MoistureFact,
  MoistureLedger,
} from './moisture-ledger.js';
import { MoisturePart } from './moisture-part.js';

const DAY0 = Date.UTC(2026, 2, 2);
const SEALED: MoistureFact = { kind: 'dry-pack-sealed', at: '2026-03-01T00:00:00Z' };

function at(hours: number): string {
  return new Date(DAY0 + Math.round(hours * 3_600_000)).toISOString();
}

function lies(hour: number, ambientC: number, relativeHumidityPct: number): MoistureFact {
  return { kind: 'exposed', at: at(hour), storage: 'open', ambientC, relativeHumidityPct };
}

function baked(from: number, to: number): MoistureFact {
  const bake: Bake = { of: 'unit', temperatureC: 125, startedAt: at(from), endedAt: at(to) };
  return { kind: 'baked', bake };
}

function ledgerOf(facts: readonly MoistureFact[]): MoistureLedger {
  return facts.reduce(advance, EMPTY_MOISTURE);
}

const PART: MoisturePart = { msl: '3', lengthMm: 15, widthMm: 15, thicknessMm: 1.7, bga: true };
const aPart = fc.record({
  msl: fc.constantFrom('2' as const, '2a' as const, '3' as const, '4' as const, '5' as const, '5a' as const),
  lengthMm: fc.constant(15),
  widthMm: fc.constant(15),
  thicknessMm: fc.constantFrom(0.8, 1.2, 1.7, 2.5, 4),
  bga: fc.boolean(),
});
const aStep = fc.oneof(
  { weight: 4, arbitrary: fc.record({ c: fc.integer({ min: 15, max: 38 }), pct: fc.integer({ min: 0, max: 95 }) }) },
  { weight: 1, arbitrary: fc.record({ bakeH: fc.integer({ min: 1, max: 100 }) }) },
);
const aStory = fc.record({
  sealed: fc.boolean(),
  steps: fc.array(fc.record({ hours: fc.integer({ min: 1, max: 120 }), step: aStep }), { maxLength: 12 }),
});
type Story = typeof aStory extends fc.Arbitrary<infer S> ? S : never;

function factsOf(story: Story): { facts: MoistureFact[]; endH: number } {
  const facts: MoistureFact[] = story.sealed ? [SEALED] : [];
  let hour = 0;
  for (const { hours, step } of story.steps) {
    if ('bakeH' in step) facts.push(baked(hour, hour + step.bakeH));
    else facts.push(lies(hour, step.c, step.pct));
    hour += 'bakeH' in step ? step.bakeH + hours : hours;
  }
  return { facts, endH: hour };
}

describe('moisture ledger', () => {
  it('is plain JSON and leaves the one before it alone', () => {
    const before = ledgerOf([SEALED, lies(0, 25, 50)]);
    const text = JSON.stringify(before);
    const after = advance(before, baked(5, 20));
    expect(JSON.stringify(before)).toBe(text);
    expect(JSON.parse(JSON.stringify(after))).toEqual(after);
  });

  it('never gives a figure that is not finite, nor a share below nought', () => {
    fc.assert(
      fc.property(aStory, aPart, fc.integer({ min: -10, max: 2000 }), (story, part, hour) => {
        const clock = readClock(ledgerOf(factsOf(story).facts), part, at(hour));
        expect(clock.usedShare).toBeGreaterThanOrEqual(0);
        for (const figure of [
          clock.usedShare,
          clock.remainingH ?? 0,
          ...clock.basis.flatMap((b) => [b.hours, b.share]),
        ]) {
          expect(Number.isFinite(figure)).toBe(true);
        }
      }),
      { numRuns: 300 },
    );
  });

  it('does not change what it says when a stretch is told in parts', () => {
    const anyPct = fc.constantFrom(5, 10, 55, 70);
    fc.assert(
      fc.property(aStory, aPart, fc.integer({ min: 1, max: 119 }), anyPct, (story, part, cut, pct) => {
        const { facts, endH } = factsOf(story);
        const last: MoistureFact[] = [lies(endH, 28, pct)];
        const whole = readClock(ledgerOf([...facts, ...last]), part, at(endH + 120));
        const parts = readClock(ledgerOf([...facts, ...last, lies(endH + cut, 28, pct)]), part, at(endH + 120));
        expect([parts.state, parts.start]).toEqual([whole.state, whole.start]);
        expect(parts.usedShare).toBeCloseTo(whole.usedShare, 9);
        expect(parts.remainingH ?? -1).toBeCloseTo(whole.remainingH ?? -1, 6);
      }),
      { numRuns: 300 },
    );
  });

  it('does not go back in one air as time passes, and is not known to be dry beyond the time it gave', () => {
    fc.assert(
      fc.property(
        aStory,
        aPart,
        fc.integer({ min: 11, max: 90 }),
        fc.integer({ min: 1, max: 500 }),
        (story, part, pct, h) => {
          const { facts, endH } = factsOf(story);
          const ledger = ledgerOf([...facts, lies(endH, 28, pct)]);
          const first = readClock(ledger, part, at(endH + 1));
          const later = readClock(ledger, part, at(endH + 1 + h));
          expect(later.usedShare).toBeGreaterThanOrEqual(first.usedShare);
          expect(later.usedAtLeast).toBeGreaterThanOrEqual(first.usedAtLeast);
          expect(later.usedAtLeast).toBeLessThanOrEqual(later.usedShare + 1e-12);
          if (first.state !== 'running' || first.expiresAt === null) return;
          expect(['expired', 'unknown']).toContain(readClock(ledger, part, first.expiresAt).state);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('uses no less in air that is hotter and wetter', () => {
    const air = fc.record({ c: fc.integer({ min: 15, max: 38 }), pct: fc.integer({ min: 0, max: 95 }) });
    fc.assert(
      fc.property(aPart, air, air, fc.integer({ min: 1, max: 300 }), (part, a, more, hours) => {
        const used = (c: number, pct: number): number =>
          readClock(ledgerOf([SEALED, lies(0, c, pct)]), part, at(hours)).usedShare;
        expect(used(a.c + more.c, a.pct + more.pct)).toBeGreaterThanOrEqual(used(a.c, a.pct));
      }),
    );
  });

  it('stays bounded under an hourly log and keeps its bake and its sum', () => {
    const facts: MoistureFact[] = [lies(-100, 25, 50), baked(-60, 0)];
    for (let hour = 0; hour < 400; hour += 1) facts.push(lies(hour, 30, hour % 2 === 0 ? 60 : 59));
    const ledger = ledgerOf(facts);
    expect(ledger.spells.length).toBeLessThanOrEqual(MAX_SPELLS);
    expect(JSON.stringify(ledger).length).toBeLessThan(10_000);
    expect(readClock(ledger, { ...PART, msl: '2a' }, at(336))).toMatchObject({ start: { kind: 'baked' } });
    expect(readClock(ledger, { ...PART, msl: '2a' }, at(400)).usedShare).toBeCloseTo(400 / 672, 9);
    expect(readClock(ledger, PART, at(400)).state).toBe('expired');
  });

  it('makes up no reset where open and dry stretches had to be gathered', () => {
    const facts: MoistureFact[] = [SEALED];
    for (let day = 0; day < 100; day += 1) facts.push(lies(day * 24, 25, 5), lies(day * 24 + 23, 30, 60));
    const whole = readClock(ledgerOf(facts), PART, at(2400));
    expect(ledgerOf(facts).spells.length).toBeLessThanOrEqual(MAX_SPELLS);
    expect(whole.usedShare).toBeLessThanOrEqual(100 / 168 + 1e-9);
    expect(whole.state).toBe('running');
  });

  it('forgets the oldest where nothing can be gathered, and then knows no start', () => {
    const facts = Array.from({ length: 60 }, (_, k) => baked(k * 20, k * 20 + 10));
    const ledger = ledgerOf(facts);
    expect(ledger.spells.length).toBeLessThanOrEqual(MAX_SPELLS);
    expect(readClock(ledger, PART, at(1200)).state).toBe('unknown');
  });

  it('refuses times and air that are none', () => {
    expect(() => advance(EMPTY_MOISTURE, { kind: 'dry-pack-sealed', at: 'yesterday' })).toThrow(RangeError);
    expect(() => advance(EMPTY_MOISTURE, lies(0, NaN, 50))).toThrow(RangeError);
  });
});

describe('a device that is put on a unit', () => {
  const unit = ledgerOf([lies(0, 25, 50), baked(10, 110), lies(110, 30, 60)]);

  it('brings its own past and shares the unit from then on', () => {
    const own = ledgerOf([SEALED, lies(120, 30, 60)]);
    const aboard = continuedAboard(own, unit, at(130));
    expect(readClock(aboard, PART, at(150)).usedShare).toBeCloseTo(30 / 168, 12);
    expect(readClock(unit, PART, at(150)).usedShare).toBeCloseTo(40 / 168, 12);
  });

  it('is not made dry by what the unit went through before', () => {
    const aboard = continuedAboard(EMPTY_MOISTURE, unit, at(130));
    expect(readClock(aboard, PART, at(150)).state).toBe('unknown');
  });

  it('shares what the unit goes through after', () => {
    const later = advance(unit, baked(200, 300));
    const aboard = continuedAboard(EMPTY_MOISTURE, later, at(130));
    expect(readClock(aboard, PART, at(300))).toMatchObject({ state: 'running', start: { kind: 'baked' } });
  });

  it('knows nothing of the time on a unit of which nothing was told', () => {
    const own = ledgerOf([SEALED]);
    const aboard = continuedAboard(own, EMPTY_MOISTURE, at(10));
    expect(readClock(aboard, PART, at(20)).state).toBe('running');
    expect(readClock(aboard, PART, at(200)).state).toBe('unknown');
  });
});
