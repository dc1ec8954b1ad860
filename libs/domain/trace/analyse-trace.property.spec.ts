import fc from 'fast-check';
import { curveThrough, figuresIn, readChannel, Sample, times, traceOf } from '../../../test/support/trace-samples.js';
import { analyseTrace } from './analyse-trace.js';
import { TraceAnalysis } from './channel-analysis.js';
import { Trace } from './trace.js';

const LINE = { liquidusC: 217, soakFromC: 150, soakToC: 200 };
const SAMPLE = fc.oneof(
  { weight: 6, arbitrary: fc.double({ min: -50, max: 300, noNaN: true }) },
  { weight: 1, arbitrary: fc.constantFrom<Sample>(undefined, 'open', 217, 400, 1372, 1e12, -1e12) },
);
const STEP = fc.oneof(fc.double({ min: 0.001, max: 30, noNaN: true }), fc.constant(0.2));

/** Two channels with anything in them, at any pace. */
const ANY_TRACE: fc.Arbitrary<Trace> = fc.array(fc.tuple(STEP, SAMPLE, SAMPLE), { maxLength: 60 }).map((rows) => {
  let atS = 0;
  const seconds = rows.map(([step]) => (atS += step));
  return traceOf(seconds, { A: rows.map(([, a]) => a), B: rows.map(([, , b]) => b) });
});

/** A heat: knots tens of seconds apart, never steeper than 5 C/s. */
const CURVE = fc
  .array(fc.tuple(fc.integer({ min: 20, max: 60 }), fc.double({ min: 20, max: 260, noNaN: true })), {
    minLength: 3,
    maxLength: 7,
  })
  .map((legs) => {
    let atS = 0;
    let lastC = 25;
    const knots = legs.map(([stepS, aimC]): readonly [number, number] => {
      atS += stepS;
      lastC += Math.max(-5 * stepS, Math.min(5 * stepS, aimC - lastC));
      return [atS, lastC];
    });
    return { curve: curveThrough([[0, 25], ...knots]), lengthS: atS, knots };
  });

function analysis(curve: (atS: number) => number, lengthS: number, perSecond: number): TraceAnalysis {
  const seconds = times(lengthS, perSecond);
  return analyseTrace(traceOf(seconds, { A: seconds.map(curve) }), LINE);
}

describe('the analysis of any trace', () => {
  it('has no figure that is no number, and times that fit into the log', () => {
    fc.assert(
      fc.property(ANY_TRACE, (trace) => {
        const found = analyseTrace(trace, LINE);
        expect(figuresIn(found).every(Number.isFinite)).toBe(true);
        const lengthS = (trace.seconds.at(-1) ?? 0) - (trace.seconds[0] ?? 0) + 1e-6;
        for (const channel of found.channels) {
          const { count, used, dropped } = channel.samples;
          expect(used + dropped.missing + dropped.open + dropped.outOfRange + dropped.spikes).toBe(count);
          if (channel.state === 'open') continue;
          expect(channel.secondsAboveLiquidus + channel.secondsUnseen).toBeLessThanOrEqual(lengthS);
          expect(channel.secondsWithin5OfPeak).toBeLessThanOrEqual(lengthS);
          expect(channel.maxRiseCPerS ?? 0).toBeGreaterThanOrEqual(0);
          expect(channel.maxFallCPerS ?? 0).toBeGreaterThanOrEqual(0);
          const parts = channel.excursions.reduce((sum, { seconds }) => sum + seconds, 0);
          expect(Math.abs(parts - channel.secondsAboveLiquidus)).toBeLessThan(1e-6);
          expect(channel.excursions.length > 0).toBe(channel.peakC >= LINE.liquidusC);
        }
      }),
      { numRuns: 1500 },
    );
  });

  it('does not depend on the order of the channels', () => {
    fc.assert(
      fc.property(ANY_TRACE, (trace) => {
        const turned = analyseTrace({ ...trace, channels: [...trace.channels].reverse() }, LINE);
        const found = analyseTrace(trace, LINE);
        expect([...turned.channels].reverse()).toEqual(found.channels);
        expect(turned.spreadC).toEqual(found.spreadC);
      }),
    );
  });

  it('does not depend on when the log began', () => {
    fc.assert(
      fc.property(CURVE, fc.integer({ min: -5000, max: 80_000 }), ({ curve, lengthS }, offsetS) => {
        const seconds = times(lengthS, 5);
        const samples = seconds.map(curve);
        const shifted = traceOf(
          seconds.map((atS) => atS + offsetS),
          { A: samples },
        );
        const there = readChannel(analyseTrace(shifted, LINE), 'A');
        const here = readChannel(analyseTrace(traceOf(seconds, { A: samples }), LINE), 'A');
        expect(there.peakC).toBe(here.peakC);
        expect(there.peakAtS - offsetS).toBeCloseTo(here.peakAtS, 6);
        expect(there.secondsAboveLiquidus).toBeCloseTo(here.secondsAboveLiquidus, 5);
        expect(there.soakSeconds).toBeCloseTo(here.soakSeconds ?? 0, 5);
        expect(there.maxRiseCPerS).toBeCloseTo(here.maxRiseCPerS ?? 0, 5);
        expect(there.maxFallCPerS).toBeCloseTo(here.maxFallCPerS ?? 0, 5);
      }),
    );
  });

  it('is the same for a curve sampled once or ten times a second: knots on whole seconds leave nothing to guess', () => {
    fc.assert(
      fc.property(CURVE, ({ curve, lengthS }) => {
        const slow = readChannel(analysis(curve, lengthS, 1), 'A');
        const fast = readChannel(analysis(curve, lengthS, 10), 'A');
        expect(fast.state).toBe(slow.state);
        expect(fast.peakC).toBeCloseTo(slow.peakC, 6);
        expect(fast.secondsAboveLiquidus).toBeCloseTo(slow.secondsAboveLiquidus, 6);
        expect(fast.secondsWithin5OfPeak).toBeCloseTo(slow.secondsWithin5OfPeak, 6);
        expect(fast.soakSeconds).toBeCloseTo(slow.soakSeconds ?? 0, 6);
        expect(fast.excursions).toHaveLength(slow.excursions.length);
        expect(fast.maxRiseCPerS).toBeCloseTo(slow.maxRiseCPerS ?? 0, 6);
        expect(fast.maxFallCPerS).toBeCloseTo(slow.maxFallCPerS ?? 0, 6);
      }),
      { numRuns: 200 },
    );
  });

  it('never finds a lower peak or less time above in a hotter trace', () => {
    fc.assert(
      fc.property(CURVE, fc.double({ min: 0, max: 60, noNaN: true }), ({ curve, lengthS }, byC) => {
        const cool = readChannel(analysis(curve, lengthS, 2), 'A');
        const hot = readChannel(
          analysis((atS) => curve(atS) + byC, lengthS, 2),
          'A',
        );
        expect(hot.peakC).toBeGreaterThanOrEqual(cool.peakC);
        expect(hot.secondsAboveLiquidus).toBeGreaterThanOrEqual(cool.secondsAboveLiquidus - 1e-9);
      }),
    );
  });

  it('never finds more time above a higher line', () => {
    fc.assert(
      fc.property(ANY_TRACE, fc.double({ min: 100, max: 260, noNaN: true }), (trace, lineC) => {
        const lower = analyseTrace(trace, { liquidusC: lineC });
        const higher = analyseTrace(trace, { liquidusC: lineC + 10 });
        lower.channels.forEach((channel, index) => {
          const other = higher.channels[index];
          if (channel.state === 'open' || other === undefined || other.state === 'open') return;
          expect(other.secondsAboveLiquidus).toBeLessThanOrEqual(channel.secondsAboveLiquidus + 1e-9);
        });
      }),
    );
  });

  it('agrees with the curve itself on its slopes where the legs are longer than the window', () => {
    fc.assert(
      fc.property(CURVE, ({ curve, lengthS, knots }) => {
        const found = readChannel(analysis(curve, lengthS, 5), 'A');
        const slopes = [[0, 25] as const, ...knots].slice(0, -1).map(([fromS, fromC], leg) => {
          const [toS, toC] = knots[leg] ?? [fromS + 1, fromC];
          return (toC - fromC) / (toS - fromS);
        });
        expect(found.maxRiseCPerS).toBeCloseTo(Math.max(0, ...slopes), 5);
        expect(found.maxFallCPerS).toBeCloseTo(Math.max(0, ...slopes.map((slope) => -slope)), 5);
      }),
      { numRuns: 200 },
    );
  });
});
