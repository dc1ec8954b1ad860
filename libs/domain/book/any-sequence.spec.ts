import fc from 'fast-check';
import { anyDrafts, movingDrafts } from '../../../test/support/domain-arbitraries.js';
import { ToldBook } from '../../../test/support/domain-book.js';
import { Draft, eventOf } from '../../../test/support/domain-events.js';
import { limitRule, partData, profileData, rulesOf } from '../../../test/support/domain-rules.js';
import { STATION_EVENT_TYPES } from '../events/station-event.js';
import { Rules } from '../setup/setup-data.js';
import { applyEvent, Outcome } from './apply-event.js';
import { evolve } from './evolve.js';
import { DeviceState, emptyWorld, UnitState, World } from './state.js';

const window = { peakMinC: 230, peakMaxC: 245, riseMaxCPerS: 3, fallMaxCPerS: 4 };
const limits = {
  careful: limitRule('device-excursions', { allowed: 2, countPossible: true, scope: { refdes: 'U2' } }),
  mild: limitRule('site-reworks', { action: 'warn', scope: { refdes: 'U3' } }),
  gentle: limitRule('method-allowed', { allowed: ['braid'], scope: { assembly: 'BRD', refdes: 'U1' } }),
};

/** A house in which most rules can be broken. */
const rules: Rules = rulesOf({
  part: { TOUGH: partData({ maxExcursions: 6, ballAlloy: 'Sn63Pb37' }) },
  station: { OLD: { kind: 'hot-gas', calibrationDueAt: '2031-03-03T06:05:00Z' } },
  operator: { ann: { qualifications: [{ skill: 'removal', validUntil: '2031-03-03T06:10:00Z' }] } },
  profile: { 'tight@1': profileData({ window, neighbourPeaks: [{ refdes: 'U2', peakC: 212 }] }) },
  limit: limits,
});

const RUNS = { numRuns: 2000 };
const any = fc.oneof(anyDrafts, movingDrafts);

/** Folds event by event; what lies between two events is what `between` makes of the world. */
function fold(drafts: readonly Draft[], between: (world: World) => World = (world) => world) {
  let world = emptyWorld();
  const outcomes: Outcome[] = [];
  for (const event of drafts.map(eventOf)) {
    world = between(world);
    outcomes.push(applyEvent(world, event, rules));
  }
  return { world, outcomes };
}

/** As if each record had been written and read again on its own. */
function reread(world: World): World {
  const each = <V>(records: Map<string, V>): Map<string, V> =>
    new Map([...records].map(([key, record]) => [key, structuredClone(record)]));
  return {
    ...structuredClone(world),
    units: each(world.units),
    devices: each(world.devices),
    stations: each(world.stations),
  };
}

/** Paths at which JSON would carry something else than what is there. */
function unfit(value: unknown, path = ''): string[] {
  if (value === null || typeof value === 'string' || typeof value === 'boolean') return [];
  if (typeof value === 'number') return Number.isFinite(value) && !Object.is(value, -0) ? [] : [path];
  if (typeof value !== 'object') return [path];
  return Object.entries(value).flatMap(([key, member]) => unfit(member, `${path}/${key}`));
}

/** The world without its bookkeeping: how far each story is told, and who met whom. */
function told(world: World): object {
  const bare = <S extends UnitState | DeviceState>(records: Map<string, S>, met: keyof S): object =>
    [...records].map(([key, state]) => [key, { ...state, last: null, [met]: [] }]);
  return {
    units: bare(world.units, 'devicesSeen'),
    devices: bare(world.devices, 'unitsSeen'),
    baths: [...world.stations].map(([key, { bath }]) => [key, bath]),
    causes: world.causes,
  };
}

/** As `toEqual` on JSON, and quick where they are alike. */
function expectSame(actual: object, expected: object): void {
  if (JSON.stringify(actual) !== JSON.stringify(expected)) expect(actual).toEqual(expected);
}

describe('any sequence of events on known assemblies, sense or nonsense', () => {
  it('is folded without a throw, each event applied or parked', () => {
    fc.assert(
      fc.property(any, (drafts) => {
        for (const outcome of fold(drafts).outcomes) {
          if (outcome.state === 'parked') expect(outcome.reason.code).toBe('unknown-site');
        }
      }),
      RUNS,
    );
  });

  it('gives the same effects and the same world each time', () => {
    fc.assert(
      fc.property(any, (drafts) => {
        const [first, second] = [fold(drafts), fold(structuredClone(drafts))];
        expectSame(second.outcomes, first.outcomes);
        expectSame(told(second.world), told(first.world));
      }),
      { numRuns: 500 },
    );
  });

  it('gives effects that JSON carries unchanged: no undefined, no NaN', () => {
    fc.assert(
      fc.property(any, (drafts) => {
        expect(unfit(fold(drafts).outcomes)).toEqual([]);
      }),
      { numRuns: 500 },
    );
  });

  it('is told in full by its effects: they alone lead to the same world', () => {
    fc.assert(
      fc.property(any, (drafts) => {
        const { world, outcomes } = fold(drafts);
        const again = emptyWorld();
        for (const outcome of structuredClone(outcomes)) {
          if (outcome.state === 'applied') for (const effect of outcome.effects) evolve(again, effect);
        }
        expectSame(told(again), told(world));
      }),
      { numRuns: 500 },
    );
  });

  it('gives the same world whether its records are kept in memory or written and read between events', () => {
    fc.assert(
      fc.property(any, (drafts) => {
        expectSame(told(fold(drafts, reread).world), told(fold(drafts).world));
      }),
      { numRuns: 500 },
    );
  });

  it('changes nothing by an event that it parks', () => {
    fc.assert(
      fc.property(any, (drafts) => {
        const world = emptyWorld();
        for (const event of drafts.map(eventOf)) {
          const before = structuredClone(world);
          if (applyEvent(world, event, rules).state === 'parked') expectSame(told(world), told(before));
        }
      }),
      { numRuns: 200 },
    );
  });

  it('never has a device in two places without an identity conflict or a broken sequence on record', () => {
    fc.assert(
      fc.property(movingDrafts, (drafts) => {
        const book = new ToldBook().tell(drafts, rules);
        const seen = new Map<string, string[]>();
        for (const [key, unit] of book.world.units) {
          for (const [refdes, { device }] of Object.entries(unit.sites)) {
            if (device !== null) seen.set(device, [...(seen.get(device) ?? []), `${key}#${refdes}`]);
          }
        }
        for (const [device, places] of seen) {
          const stray = places.length > 1 || (book.world.devices.has(device) && book.where(device) !== places[0]);
          if (stray)
            expect(book.holds().join('\n')).toMatch(
              new RegExp(`(identity-conflict|sequence-broken) devices/${device}`),
            );
        }
      }),
      { numRuns: 1000 },
    );
  });

  it('counts in a tally exactly what its effects say', () => {
    fc.assert(
      fc.property(any, (drafts) => {
        const { world, outcomes } = fold(drafts);
        const counted = outcomes
          .flatMap((outcome) => (outcome.state === 'applied' ? outcome.effects : []))
          .filter((effect) => effect.kind === 'counted' && effect.subject.kind !== 'device');
        const tallies = [...world.units.values()].flatMap(({ reflows, sites }) => [
          reflows,
          ...Object.values(sites).flatMap((site) => [site.reworks, site.dressings, site.excursions]),
        ]);
        expect(tallies.reduce((sum, tally) => sum + tally.counted.length, 0)).toBe(counted.length);
      }),
      { numRuns: 300 },
    );
  });

  it('is drawn from events of every type', () => {
    const types = new Set(
      fc.sample(anyDrafts, { numRuns: 200, seed: 7 }).flatMap((drafts) => drafts.map(({ type }) => type)),
    );
    expect([...types].sort()).toEqual([...STATION_EVENT_TYPES].sort());
  });
});
