import fc from 'fast-check';
import { isKnownDry } from './dry-for-heat.js';
import { isDryAt, isExpired } from './known-dry.js';
import { MoistureClock, readClock } from './moisture-clock.js';
import { advance, EMPTY_MOISTURE, MoistureFact, MoistureLedger } from './moisture-ledger.js';

const DAY0 = Date.UTC(2026, 2, 2);

function at(hours: number): string {
  return new Date(DAY0 + hours * 3_600_000).toISOString();
}

const aPart = fc.record({
  msl: fc.constantFrom(...(['1', '2', '2a', '3', '4', '5', '5a', '6'] as const)),
  lengthMm: fc.constant(15),
  widthMm: fc.constant(15),
  thicknessMm: fc.constantFrom(0.8, 1.7, 2.5, 4, 5),
  bga: fc.boolean(),
});
const hours = fc.integer({ min: 1, max: 200 });
const aFact = fc.oneof(
  fc.record({ kind: fc.constant('sealed' as const), hours }),
  fc.record({
    kind: fc.constant('lies' as const),
    hours,
    storage: fc.constantFrom('open' as const, 'dry-cabinet' as const, 'dry-pack' as const),
    pct: fc.constantFrom(undefined, 3, 10, 55, 80),
  }),
  fc.record({
    kind: fc.constant('baked' as const),
    hours,
    of: fc.constantFrom('unit' as const, 'device' as const),
    temperatureC: fc.constantFrom(40, 90, 105, 125),
    bakeH: fc.integer({ min: 1, max: 60 }),
  }),
);
/** Told one after the other, from a start that may be unknown; the hours are those until the next fact. */
const aStory = fc.array(aFact, { maxLength: 8 });
type Told = typeof aFact extends fc.Arbitrary<infer F> ? F : never;

function factAt(told: Told, hour: number): MoistureFact {
  switch (told.kind) {
    case 'sealed':
      return { kind: 'dry-pack-sealed', at: at(hour) };
    case 'lies': {
      const pct = told.pct === undefined ? {} : { relativeHumidityPct: told.pct, ambientC: 25 };
      return { kind: 'exposed', at: at(hour), storage: told.storage, ...pct };
    }
    case 'baked': {
      const { of, temperatureC, bakeH } = told;
      return { kind: 'baked', bake: { of, temperatureC, startedAt: at(hour), endedAt: at(hour + bakeH) } };
    }
  }
}

function ledgerOf(story: readonly Told[]): { ledger: MoistureLedger; endH: number } {
  let ledger = EMPTY_MOISTURE;
  let hour = 0;
  for (const told of story) {
    ledger = advance(ledger, factAt(told, hour));
    hour += told.hours + (told.kind === 'baked' ? told.bakeH : 0);
  }
  return { ledger, endH: hour };
}

describe('what a heat asks of a moisture clock', () => {
  it('is answered as the whole clock answers it, whatever was told', () => {
    const seen = new Set<string>();
    const tell = (clock: MoistureClock): string => `${clock.state} ${String(isKnownDry(clock).by)}`;
    fc.assert(
      fc.property(aStory, aPart, fc.integer({ min: -300, max: 300 }), (story, part, laterH) => {
        const { ledger, endH } = ledgerOf(story);
        const asOf = at(endH + laterH);
        const clock = readClock(ledger, part, asOf);
        seen.add(tell(clock));
        expect(isExpired(ledger, part, asOf)).toBe(clock.state === 'expired');
        expect(isDryAt(ledger, part, asOf)).toBe(isKnownDry(clock).dry);
      }),
      { numRuns: 1000, seed: 20 },
    );
    // Every way to be dry, and not to be, was among them; the seed is fixed for the sake of this.
    expect([...seen].sort()).toEqual([
      'dry floor-life',
      'expired null',
      'paused floor-life',
      'running floor-life',
      'unknown board-bake',
      'unknown null',
    ]);
  });

  it.each([isExpired, isDryAt])('is not answered for what is no time (%p)', (ask) => {
    const part = { msl: '1', lengthMm: 15, widthMm: 15, thicknessMm: 1.7, bga: true } as const;
    expect(() => ask(EMPTY_MOISTURE, part, 'yesterday')).toThrow(RangeError);
  });
});
