import { emptyWorld } from '../domain/book/state.js';
import { Rules, SetupData, SetupKind } from '../domain/setup/setup-data.js';
import { readTraceCsv } from '../domain/trace/read-trace-csv.js';
import { Trace } from '../domain/trace/trace.js';
import { ToldBook } from '../../test/support/domain-book.js';
import { Draft } from '../../test/support/domain-events.js';
import { rulesOf } from '../../test/support/domain-rules.js';
import { MISTAKE_KINDS } from './mistake.js';
import { SimulatedAct } from './simulated-act.js';
import { DayWish, simulateDay, SimulatedDay } from './simulate-day.js';

const WISH: DayWish = {
  seed: 1,
  run: 'T',
  startMs: Date.parse('2026-05-04T06:00:00Z'),
  stations: 3,
  hours: 8,
  mistakes: 0,
  traced: 0.4,
};

function acts<K extends SimulatedAct['kind']>(day: SimulatedDay, kind: K): Extract<SimulatedAct, { kind: K }>[] {
  return day.acts.filter((act): act is Extract<SimulatedAct, { kind: K }> => act.kind === kind);
}

function rules(day: SimulatedDay): Rules {
  const records: { [K in SetupKind]?: Record<string, SetupData[K]> } = {};
  const put = <K extends SetupKind>(kind: K, name: string, body: SetupData[K]): void => {
    const known: Record<string, SetupData[K]> = records[kind] ?? {};
    Object.assign(records, { [kind]: { ...known, [name]: body } });
  };
  for (const { kind, name, body } of day.setup) put(kind, name, body);
  return rulesOf(records);
}

function traces(day: SimulatedDay): ReadonlyMap<string, Trace> {
  return new Map(
    acts(day, 'trace').map(({ name, csv }) => {
      const reading = readTraceCsv(csv);
      if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
      return [name, reading.trace];
    }),
  );
}

/** The book after a day, where nobody is asked for clearance. */
function told(day: SimulatedDay): ToldBook {
  const drafts = acts(day, 'post').map(({ event: { type, subject, data, time, source, id } }) => {
    return { type, subject, data, time, id, station: source.slice('/stations/'.length) } as Draft;
  });
  return new ToldBook({ ...emptyWorld(), traces: traces(day) }).tell(drafts, rules(day));
}

describe('an ordinary simulated day', () => {
  it.each([1, 2, 3, 4])('with seed %i: ships what it took up, without a hold or a warning', (seed) => {
    const day = simulateDay({ ...WISH, seed });
    const book = told(day);
    expect(book.holds()).toEqual([]);
    expect(book.warnings()).toEqual([]);
    expect(book.outcomes.filter(({ state }) => state !== 'applied')).toEqual([]);
    expect(day.boards.length).toBeGreaterThanOrEqual(15);
    expect(day.boards.map((key) => book.unit(key).status)).toEqual(day.boards.map(() => 'shipped'));
    expect(day.mistakes).toEqual([]);
  });

  it('would not be silent about a figure that its trace does not show', () => {
    const day = simulateDay({ ...WISH, traced: 1, hours: 1 });
    const hotter = acts(day, 'trace').map((act) => ({ ...act, csv: act.csv.replaceAll(',23', ',20') }));
    const book = told({ ...day, acts: [...acts(day, 'post'), ...hotter] });
    expect(book.holds().join()).toContain('summary-mismatch');
  });

  it('is the same for the same wish, and another for another seed', () => {
    const wish = { ...WISH, mistakes: 0.5, hours: 3 };
    expect(simulateDay(wish)).toEqual(simulateDay(wish));
    expect(simulateDay({ ...wish, seed: 2 }).acts).not.toEqual(simulateDay(wish).acts);
  });

  it('has heats as a process engineer would run them', () => {
    const day = simulateDay({ ...WISH, traced: 1, stations: 6 });
    const placed = acts(day, 'post').flatMap(({ event }) =>
      event.type === 'heatbook.device.placed.v1' ? [event.data] : [],
    );
    expect(placed.length).toBeGreaterThan(30);
    const peaks = placed.flatMap(({ heat }) => heat.thermocouples.slice(0, 1));
    expect(new Set(peaks.map(({ peakC }) => peakC)).size).toBeGreaterThan(15);
    for (const { secondsAboveLiquidus = 0, maxRiseCPerS = 0, maxFallCPerS = 0 } of peaks) {
      expect(secondsAboveLiquidus).toBeGreaterThan(45);
      expect(secondsAboveLiquidus).toBeLessThan(90);
      expect(maxRiseCPerS).toBeGreaterThan(0.5);
      expect(maxRiseCPerS).toBeLessThan(3);
      expect(maxFallCPerS).toBeLessThan(4);
    }
  });

  it('asks before every heat for all that is done under what it asked, and never afterwards', () => {
    const day = simulateDay(WISH);
    const under = new Map<string, number>();
    for (const { under: ask } of acts(day, 'post')) if (ask !== null) under.set(ask, (under.get(ask) ?? 0) + 1);
    const asks = acts(day, 'ask');
    expect(asks).toHaveLength(day.boards.length);
    for (const { id, steps } of asks) expect(under.get(id)).toBe(steps.length);
    for (const { id, atMs } of asks) {
      const begun = acts(day, 'post').flatMap(({ under: ask, event }) =>
        ask === id && 'heat' in event.data ? [Date.parse(event.data.heat.startedAt)] : [],
      );
      expect(Math.min(...begun)).toBeGreaterThan(atMs);
    }
  });
});

describe('a simulated day with mistakes', () => {
  it('has one of each kind where that is wished, on a board each', () => {
    const day = simulateDay({ ...WISH, mistakes: 'each' });
    expect(day.mistakes.map(({ kind }) => kind).sort()).toEqual([...MISTAKE_KINDS].sort());
    expect(new Set(day.mistakes.map(({ board }) => board)).size).toBe(MISTAKE_KINDS.length);
  });

  it('has more of them the higher the share, and careless people make more', () => {
    const count = (mistakes: number): number =>
      simulateDay({ ...WISH, stations: 8, traced: 0, mistakes }).mistakes.length;
    expect(count(0.1)).toBeGreaterThan(0);
    expect(count(0.5)).toBeGreaterThan(2 * count(0.1));
  });

  it('takes up no more boards than wished, and none of a day longer than clearances last', () => {
    expect(simulateDay({ ...WISH, boards: 4 }).boards).toHaveLength(4);
    expect(() => simulateDay({ ...WISH, hours: 21 })).toThrow(RangeError);
  });
});
