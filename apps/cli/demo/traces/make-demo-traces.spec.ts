import { analyseTrace } from '../../../../libs/domain/trace/analyse-trace.js';
import { ReadChannel, TraceAnalysis } from '../../../../libs/domain/trace/channel-analysis.js';
import { readTraceCsv } from '../../../../libs/domain/trace/read-trace-csv.js';
import { traceInCelsius } from '../../../../libs/domain/trace/trace-in-celsius.js';
import { LoggedTrace } from '../../../../libs/simulator/traces/make-trace.js';
import { makeDemoTraces } from './make-demo-traces.js';

const TRACES = makeDemoTraces();

function analysed(demo: LoggedTrace): TraceAnalysis {
  const reading = readTraceCsv(demo.csv);
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  const trace = demo.voltage === undefined ? reading.trace : traceInCelsius(reading.trace, demo.voltage);
  return analyseTrace(trace, { liquidusC: demo.liquidusC });
}

function channel(name: string, of: string): ReadChannel {
  const demo = TRACES.find((trace) => trace.name === name);
  const found = demo && analysed(demo).channels.find((candidate) => candidate.name === of);
  if (found === undefined || found.state === 'open') throw new Error(`${name} has no reading of ${of}`);
  return found;
}

describe('the demo traces', () => {
  it('are twelve, and the same every time', () => {
    expect(TRACES).toHaveLength(12);
    expect(makeDemoTraces()).toEqual(TRACES);
  });

  it.each(TRACES.map((trace) => [trace.name, trace] as const))('%s: the analysis finds the truth', (_, demo) => {
    const { channels } = analysed(demo);
    expect(channels.map(({ name }) => name)).toEqual(demo.channels.map(({ name }) => name));
    demo.channels.forEach((truth, index) => {
      const found = channels[index];
      expect(found?.state).toBe(truth.connected ? 'ok' : 'open');
      if (found === undefined || found.state === 'open') return;
      // Noise lifts the highest of many readings by a few tenths.
      expect(found.peakC - truth.peakC).toBeGreaterThan(-0.3);
      expect(found.peakC - truth.peakC).toBeLessThan(0.9);
      expect(Math.abs(found.secondsAboveLiquidus - truth.secondsAboveLiquidus)).toBeLessThan(1.5);
      expect(found.maxRiseCPerS).toBeGreaterThan(0);
      expect(Math.abs(found.over.toS - found.over.fromS - demo.lengthS)).toBeLessThan(1);
    });
  });

  // Common practice, no source: about 150 C at the die under a braid, about 217 to 230 C over a fountain.
  it('show a die that stays cold under a braid and melts its balls over a fountain', () => {
    expect(channel('braid-deballing-sac305', 'Die').secondsAboveLiquidus).toBe(0);
    expect(channel('braid-deballing-sac305', 'Die').peakC).toBeLessThan(180);
    expect(channel('braid-deballing-sac305', 'Balls').excursions.length).toBeGreaterThan(3);
    expect(channel('fountain-deballing-sac305', 'Die').secondsAboveLiquidus).toBeGreaterThan(5);
    expect(channel('fountain-deballing-sac305', 'Die').peakC).toBeLessThan(231);
  });

  it('have hot-gas slopes a process engineer would accept', () => {
    for (const name of ['removal-sac305', 'placement-sac305', 'removal-snpb', 'oven-pass-sac305']) {
      for (const found of TRACES.filter((trace) => trace.name === name).flatMap((demo) => analysed(demo).channels)) {
        if (found.state === 'open') continue;
        expect(found.maxRiseCPerS).toBeLessThan(3);
        expect(found.maxFallCPerS).toBeLessThan(6);
      }
    }
  });

  it('list the dropout without doubting the channel, and spread a coarse clock', () => {
    expect(channel('touch-up-sac305', 'Joint').samples.gaps).toHaveLength(1);
    expect(channel('touch-up-sac305', 'Joint').samples.dropped.missing).toBeGreaterThan(50);
  });
});
