import { mulberry32 } from '../../../test/support/mulberry32.js';
import {
  channelNamed,
  curveThrough,
  readChannel,
  Sample,
  times,
  traceFrom,
  traceOf,
  TRAPEZOID,
} from '../../../test/support/trace-samples.js';
import { analyseTrace } from './analyse-trace.js';
import { ReadChannel } from './channel-analysis.js';
import { traceInCelsius } from './trace-in-celsius.js';

const LINE = { liquidusC: 217 };

function noisy(curve: (atS: number) => number, seed: number, spreadC = 0.3): (atS: number) => number {
  const random = mulberry32(seed);
  return (atS) => curve(atS) + (random() - 0.5) * 2 * spreadC;
}

/** One channel with the samples given, a second apart. */
function everySecond(samples: readonly Sample[], liquidusC = 217): ReadChannel {
  return readChannel(analyseTrace(traceOf(times(samples.length - 1, 1), { A: samples }), { liquidusC }), 'A');
}

describe('the figures of a channel', () => {
  const seconds = times(240, 5);
  const channel = readChannel(
    analyseTrace(traceOf(seconds, { A: seconds.map(TRAPEZOID) }), { ...LINE, soakFromC: 150, soakToC: 200 }),
    'A',
  );

  it('are those of the curve it was made from', () => {
    expect(channel.state).toBe('ok');
    expect(channel.peakC).toBe(245);
    expect(channel.peakAtS).toBeCloseTo(130, 9);
    // 14 s up from 217 C, 30 s at the top, 7 s down.
    expect(channel.secondsAboveLiquidus).toBeCloseTo(51, 9);
    expect(channel.excursions).toHaveLength(1);
    expect(channel.excursions[0]?.fromS).toBeCloseTo(116, 9);
    expect(channel.excursions[0]?.toS).toBeCloseTo(167, 9);
    expect(channel.secondsWithin5OfPeak).toBeCloseTo(2.5 + 30 + 1.25, 9);
    expect(channel.soakSeconds).toBeCloseTo(25, 9);
    expect(channel.secondsFrom25ToPeak).toBeCloseTo(110, 9);
    expect(channel.over).toEqual({ fromS: 0, toS: 240 });
    expect(channel.samples).toMatchObject({ count: 1201, used: 1201, gaps: [], gapSeconds: 0 });
  });

  it('have slopes fitted over a window that they name', () => {
    expect(channel.maxRiseCPerS).toBeCloseTo(2, 9);
    expect(channel.maxRise).toMatchObject({ samples: 26 });
    expect((channel.maxRise?.toS ?? 0) - (channel.maxRise?.fromS ?? 0)).toBeCloseTo(5, 9);
    expect(channel.maxRise?.fromS).toBeGreaterThanOrEqual(20);
    expect(channel.maxFallCPerS).toBeCloseTo(4, 9);
    expect(channel.maxFall?.fromS).toBeGreaterThanOrEqual(160);
  });

  it('keep noise out of the slopes, which two neighbouring readings would not', () => {
    const found = readChannel(analyseTrace(traceOf(seconds, { A: seconds.map(noisy(TRAPEZOID, 1)) }), LINE), 'A');
    expect(Math.abs((found.maxRiseCPerS ?? 0) - 2)).toBeLessThan(0.15);
    expect(Math.abs((found.maxFallCPerS ?? 0) - 4)).toBeLessThan(0.15);
  });

  it('fit slopes over more than the window where the log is too slow for three readings in it', () => {
    const slow = times(240, 0.2);
    const analysis = analyseTrace(traceOf(slow, { A: slow.map(TRAPEZOID) }), LINE);
    expect(analysis.rules.rampWindowS).toBe(10);
    expect(readChannel(analysis, 'A').maxRise).toMatchObject({ samples: 3 });
    expect(readChannel(analysis, 'A').maxRiseCPerS).toBeCloseTo(2, 9);
  });

  it('find crossings between the readings, however far apart these are', () => {
    const found = readChannel(analyseTrace(traceOf([0, 7, 30, 41], { A: [200, 234, 234, 190] }), LINE), 'A');
    expect(found.secondsAboveLiquidus).toBeCloseTo(7 - 3.5 + 23 + 4.25, 9);
  });
});

describe('the line', () => {
  it('counts as above: a plateau exactly on it counts whole, one reading that touches it for nothing', () => {
    expect(everySecond([200, 210, 217, 217, 217, 210, 200])).toMatchObject({
      secondsAboveLiquidus: 2,
      excursions: [{ fromS: 2, toS: 4, seconds: 2 }],
    });
    expect(everySecond([200, 210, 217, 210, 200])).toMatchObject({
      secondsAboveLiquidus: 0,
      excursions: [{ fromS: 2, toS: 2, seconds: 0 }],
    });
    expect(everySecond([200, 210, 216.999, 210, 200]).excursions).toEqual([]);
    expect(everySecond(Array<number>(61).fill(217))).toMatchObject({ state: 'ok', secondsAboveLiquidus: 60 });
  });

  it('may be crossed several times', () => {
    const found = everySecond([200, 220, 230, 220, 200, 205, 220, 225, 210]);
    expect(found.excursions).toHaveLength(2);
    expect(found.excursions.reduce((sum, { seconds }) => sum + seconds, 0)).toBeCloseTo(found.secondsAboveLiquidus, 9);
  });

  it('crossed by noise is not crossed anew: a dip short and shallow parts no excursion, nor does it count as above', () => {
    const found = everySecond([210, 218, 218, 216, 218, 218, 210]);
    expect(found.excursions).toHaveLength(1);
    // 0.125 + 1 + 0.5 + 0.5 + 1 + 0.125
    expect(found.secondsAboveLiquidus).toBeCloseTo(3.25, 9);
  });

  it('may be lived on from the first reading to the last', () => {
    expect(everySecond([230, 231, 232])).toMatchObject({ secondsAboveLiquidus: 2, excursions: [{ fromS: 0, toS: 2 }] });
  });
});

describe('spikes, gaps and dropouts', () => {
  const seconds = times(240, 5);

  it('drops a jump there and back again, and counts it', () => {
    const spiked = seconds.map((atS) => TRAPEZOID(atS) + (atS === 60 ? 300 : atS === 100.4 ? -90 : 0));
    const found = readChannel(analyseTrace(traceOf(seconds, { A: spiked }), LINE), 'A');
    expect(found).toMatchObject({ state: 'ok', peakC: 245 });
    expect(found.secondsAboveLiquidus).toBeCloseTo(51, 9);
    expect(found.maxRiseCPerS).toBeCloseTo(2, 6);
    expect(found.samples.dropped.spikes).toBe(2);
  });

  it('drops a spike that a logger repeated until its next reading', () => {
    const held = (atS: number): number => TRAPEZOID(Math.floor(atS));
    const spiked = seconds.map((atS) => (Math.floor(atS) === 60 ? 350 : held(atS)));
    const found = readChannel(analyseTrace(traceOf(seconds, { A: spiked }), LINE), 'A');
    expect(found.peakC).toBe(245);
    expect(found.samples.dropped.spikes).toBe(5);
  });

  it('drops a first and a last reading that belong to nothing', () => {
    const ends = seconds.map((atS) => (atS === 0 ? 500 : atS === 240 ? -40 : TRAPEZOID(atS)));
    const found = readChannel(analyseTrace(traceOf(seconds, { A: ends }), LINE), 'A');
    expect(found.peakC).toBe(245);
    expect(found.samples.dropped.spikes).toBe(2);
  });

  it('keeps a step that stays: solder reached the bead', () => {
    const step = seconds.map((atS) => (atS < 60 ? 120 : 230));
    const found = readChannel(analyseTrace(traceOf(seconds, { A: step }), LINE), 'A');
    expect(found.samples.dropped.spikes).toBe(0);
    expect(found.secondsAboveLiquidus).toBeCloseTo(180, 0);
  });

  it('draws through a short dropout, not through a long one, and says what it cannot know', () => {
    const without = (fromS: number, toS: number): ReadChannel => {
      const samples = seconds.map((atS) => (atS > fromS && atS < toS ? undefined : TRAPEZOID(atS)));
      return readChannel(analyseTrace(traceOf(seconds, { A: samples }), LINE), 'A');
    };
    const short = without(135, 140);
    expect(short).toMatchObject({ state: 'ok', secondsUnseen: 0 });
    expect(short.secondsAboveLiquidus).toBeCloseTo(51, 6);
    expect(short.samples.gaps).toEqual([{ fromS: 135, toS: 140, bridged: true }]);
    const long = without(133, 158);
    expect(long.state).toBe('suspect');
    expect(long.secondsAboveLiquidus).toBeCloseTo(26, 6);
    expect(long.secondsUnseen).toBeCloseTo(25, 6);
    expect(long.excursions).toHaveLength(2);
    const cold = without(180, 200);
    expect(cold).toMatchObject({ state: 'ok', secondsUnseen: 0, samples: { gaps: [{ bridged: false }] } });
  });

  it('lets the caller say how long a gap may be', () => {
    const samples = seconds.map((atS) => (atS > 135 && atS < 155 ? undefined : TRAPEZOID(atS)));
    const trace = traceOf(seconds, { A: samples });
    expect(readChannel(analyseTrace(trace, { ...LINE, maxGapS: 25 }), 'A').secondsAboveLiquidus).toBeCloseTo(51, 6);
    expect(readChannel(analyseTrace(trace, { ...LINE, maxGapS: 2 }), 'A').secondsUnseen).toBeCloseTo(20, 6);
  });
});

describe('the state of a channel', () => {
  const seconds = times(240, 5);
  const live = seconds.map(noisy(TRAPEZOID, 3));
  const stateOf = (samples: readonly Sample[]): ReturnType<typeof channelNamed> =>
    channelNamed(analyseTrace(traceOf(seconds, { live, other: samples }), LINE), 'other');

  it.each([1372, 1000, 1768, 400, 1200, 3276.7, -200, -270, 2501.6])(
    'is open where it reads %d all the time',
    (rest) => {
      const found = stateOf(seconds.map(() => rest));
      expect(found).toMatchObject({ state: 'open', samples: { used: 0 } });
      expect(found).not.toHaveProperty('peakC');
      expect(found.why).toContain(String(Math.round(rest)));
    },
  );

  it('is open where it has no reading, or the word for it', () => {
    expect(stateOf(seconds.map(() => undefined))).toMatchObject({
      state: 'open',
      why: 'no reading in any of 1201 rows',
    });
    expect(stateOf(seconds.map(() => 'open'))).toMatchObject({ state: 'open' });
    expect(stateOf(seconds.map((atS) => (atS < 100 ? TRAPEZOID(atS) : 1372)))).toMatchObject({ state: 'open' });
  });

  it('is suspect where contact was lost and came back', () => {
    const loose = stateOf(seconds.map((atS) => (atS > 60 && atS < 70 ? 1372 : TRAPEZOID(atS))));
    expect(loose).toMatchObject({ state: 'suspect', peakC: 245 });
    expect(loose.why).toContain('loose contact');
    const atScale = stateOf(seconds.map((atS) => (atS > 60 && atS < 70 ? 400 : TRAPEZOID(atS))));
    expect(atScale).toMatchObject({ state: 'suspect', peakC: 245 });
  });

  it('is suspect where the curve ran into the top of a scale', () => {
    const clipped = stateOf(seconds.map((atS) => Math.min(400, 2 * TRAPEZOID(atS))));
    expect(clipped).toMatchObject({ state: 'suspect', peakC: 400 });
    expect(clipped.why).toContain('top of a scale');
    expect(stateOf(seconds.map((atS) => (atS < 100 ? 1.6 * atS + 250 : 410)))).toMatchObject({ state: 'ok' });
  });

  it('is stuck where it stays still while another moves', () => {
    expect(stateOf(seconds.map(() => 25))).toMatchObject({ state: 'stuck', peakC: 25 });
    expect(stateOf(seconds.map(noisy(() => 24, 5, 1.5)))).toMatchObject({ state: 'stuck' });
    expect(stateOf(seconds.map(() => 180.5))).toMatchObject({ state: 'stuck' });
  });

  it('is sound where it is far from the heat and yet follows it, and where nothing moved', () => {
    expect(stateOf(seconds.map(noisy((atS) => 24 + TRAPEZOID(atS) / 60, 5)))).toMatchObject({ state: 'ok' });
    const idle = seconds.map(noisy(() => 24, 6));
    expect(analyseTrace(traceOf(seconds, { idle, still: idle }), LINE).channels.map(({ state }) => state)).toEqual([
      'ok',
      'ok',
    ]);
  });

  it('keeps every channel but the sound ones out of the spread', () => {
    const over = (byC: number) => seconds.map((atS) => TRAPEZOID(atS) + byC);
    const analysis = analyseTrace(
      traceOf(seconds, {
        A: over(0),
        B: over(-6.5),
        C: over(3),
        dead: over(0).map(() => 22),
        gone: over(0).map(() => 1372),
      }),
      LINE,
    );
    expect(analysis.spreadC).toBeCloseTo(9.5, 9);
    expect(analysis.spread).toEqual({ hottest: 'C', coolest: 'B', over: ['A', 'B', 'C'] });
    expect(analysis.notes.map((note) => note.split(':')[0])).toEqual([
      'C starts above 25 C',
      'dead is stuck',
      'gone is open',
    ]);
    const some = analyseTrace(traceOf(seconds, { A: over(0), B: over(-6.5), C: over(3) }), {
      ...LINE,
      spreadOver: ['A', 'B'],
    });
    expect(some.spreadC).toBeCloseTo(6.5, 9);
    expect(analyseTrace(traceOf(seconds, { A: over(0) }), LINE)).not.toHaveProperty('spreadC');
  });
});

describe('a file as loggers write them', () => {
  it('five samples a second, repeated readings, whole-second stamps, inputs without a thermocouple, started before midnight', () => {
    const curve = noisy(TRAPEZOID, 9, 0.1);
    const rows = times(239.8, 5).map((atS) => {
      const ofDay = (86_400 - 100 + Math.floor(atS)) % 86_400;
      const clock = [ofDay / 3600, (ofDay / 60) % 60, ofDay % 60].map((part) =>
        Math.floor(part).toFixed(0).padStart(2, '0'),
      );
      const reading = curve(Math.floor(atS * 2) / 2).toFixed(1);
      return [clock.join(':'), reading, '1372.0', '1000.0', '1768.0', '400.0', reading].join(';');
    });
    const trace = traceFrom(['Time;TC1 (°C);TC2 (°C);TC3 (°C);TC4 (°C);TC5 (°C);TC6 (°C)', ...rows].join('\r\n'));
    const analysis = analyseTrace(trace, LINE);
    expect(analysis.channels.map(({ state }) => state)).toEqual(['ok', 'open', 'open', 'open', 'open', 'ok']);
    const found = readChannel(analysis, 'TC1');
    expect(Math.abs(found.secondsAboveLiquidus - 51)).toBeLessThan(1);
    expect(Math.abs(found.peakC - 245)).toBeLessThan(0.2);
    expect(Math.abs((found.maxRiseCPerS ?? 0) - 2)).toBeLessThan(0.25);
    expect(analysis.spreadC).toBe(0);
  });

  it('in mV, with the cold junction beside it', () => {
    const trace = traceFrom('s,TC1 (mV),TC2 (mV)\n0,7.829,70\n1,7.829,70\n2,0,70\n');
    const analysis = analyseTrace(traceInCelsius(trace, { type: 'K', coldJunctionC: 25 }), LINE);
    expect(readChannel(analysis, 'TC1').peakC.toFixed(2)).toBe('217.22');
    expect(channelNamed(analysis, 'TC2').state).toBe('open');
    expect(() => analyseTrace(trace, LINE)).toThrow(RangeError);
    expect(() => traceInCelsius(trace, { type: 'K', coldJunctionC: Number.NaN })).toThrow(RangeError);
  });

  it('of a bench that is warm already: the time to peak is counted from the first reading, and says so', () => {
    const warm = times(100, 1).map(
      curveThrough([
        [0, 40],
        [80, 230],
        [100, 200],
      ]),
    );
    const analysis = analyseTrace(traceOf(times(100, 1), { A: warm }), LINE);
    expect(readChannel(analysis, 'A')).toMatchObject({ secondsFrom25ToPeak: 80, from25Basis: 'first-reading' });
    expect(analysis.notes).toHaveLength(1);
  });
});

describe('options that make no sense', () => {
  it.each([
    { liquidusC: Number.NaN },
    { liquidusC: 0 },
    { liquidusC: 217, rampWindowS: 0 },
    { liquidusC: 217, maxGapS: -1 },
    { liquidusC: 217, soakFromC: 150 },
    { liquidusC: 217, soakFromC: 200, soakToC: 150 },
  ])('are refused: %j', (options) => {
    expect(() => analyseTrace(traceOf([0, 1], { A: [25, 26] }), options)).toThrow(RangeError);
  });
});
