import { times, traceOf, TRAPEZOID } from '../../../test/support/trace-samples.js';
import { ThermocoupleSummary } from '../events/heat.js';
import { analyseTrace } from './analyse-trace.js';
import { compareSummary } from './compare-summary.js';
import { summariseTrace } from './summarise-trace.js';

const SECONDS = times(240, 5);
const ANALYSIS = analyseTrace(
  traceOf(SECONDS, {
    TC1: SECONDS.map(TRAPEZOID),
    TC2: SECONDS.map((atS) => TRAPEZOID(atS) - 5),
    dead: SECONDS.map(() => 24.5),
    gone: SECONDS.map(() => 1372),
    clipped: SECONDS.map((atS) => Math.min(400, 2 * TRAPEZOID(atS))),
  }),
  { liquidusC: 217 },
);

const JOINT: ThermocoupleSummary = { id: 'TC1', position: 'joint', peakC: 245 };

describe('the summary of a trace', () => {
  it('has a thermocouple for every placed channel that was read', () => {
    const { thermocouples, doubtful, leftOut } = summariseTrace(ANALYSIS, [
      { channel: 'TC1', position: 'joint', refdes: 'U7', uncertaintyC: 1.5 },
      { channel: 'clipped', position: 'air' },
      { channel: 'gone', position: 'die' },
      { channel: 'TC9', position: 'board' },
    ]);
    expect(thermocouples.map(({ id }) => id)).toEqual(['TC1', 'clipped']);
    expect(thermocouples[0]).toMatchObject({
      refdes: 'U7',
      position: 'joint',
      peakC: 245,
      liquidusC: 217,
      uncertaintyC: 1.5,
    });
    expect(thermocouples[0]?.secondsAboveLiquidus).toBeCloseTo(51, 6);
    expect(thermocouples[0]?.maxFallCPerS).toBeCloseTo(4, 6);
    expect(doubtful).toEqual([{ channel: 'clipped', why: expect.stringContaining('top of a scale') as string }]);
    expect(leftOut).toEqual([
      { channel: 'gone', why: expect.stringContaining('1372') as string },
      { channel: 'TC9', why: 'the trace has no such channel' },
    ]);
  });

  it('agrees with the trace it was made from', () => {
    const { thermocouples } = summariseTrace(ANALYSIS, [
      { channel: 'TC1', position: 'joint' },
      { channel: 'TC2', position: 'die' },
      { channel: 'clipped', position: 'air' },
    ]);
    expect(compareSummary(thermocouples, ANALYSIS)).toEqual({ disagreements: [], notCompared: [] });
  });
});

describe('a summary held against a trace', () => {
  it('may round, and fit its slopes a little otherwise', () => {
    const claim = {
      ...JOINT,
      id: 'tc1',
      peakC: 246.5,
      secondsAboveLiquidus: 55,
      maxRiseCPerS: 2.4,
      maxFallCPerS: -4.6,
    };
    expect(compareSummary([claim], ANALYSIS).disagreements).toEqual([]);
  });

  it.each([
    ['peakC', 241, 245],
    ['peakC', 248, 245],
    ['secondsAboveLiquidus', 40, 51],
    ['maxRiseCPerS', 3.1, 2],
    ['maxFallCPerS', 2, 4],
  ] as const)('disagrees on %s of %d, and says by how much', (figure, claimed, shown) => {
    const { disagreements } = compareSummary([{ ...JOINT, [figure]: claimed }], ANALYSIS);
    expect(disagreements).toHaveLength(1);
    expect(disagreements[0]).toMatchObject({ thermocouple: 'TC1', figure, claimed });
    expect(disagreements[0]?.shown).toBeCloseTo(shown, 6);
    expect(disagreements[0]?.why).toMatch(/the summary says \d+\.\d\d (more|less) than the trace/);
  });

  it('disagrees where the channel it claims a peak for has no thermocouple', () => {
    const { disagreements } = compareSummary([{ ...JOINT, id: 'gone' }], ANALYSIS);
    expect(disagreements).toMatchObject([{ thermocouple: 'gone', figure: 'peakC', claimed: 245 }]);
    expect(disagreements[0]).not.toHaveProperty('shown');
  });

  it('agrees about a bead far from the heat, and about an input that both show unconnected', () => {
    const dead: ThermocoupleSummary = { id: 'dead', position: 'air', peakC: 24.6 };
    expect(compareSummary([dead, { ...JOINT, id: 'gone', peakC: 1372 }], ANALYSIS).disagreements).toEqual([]);
    expect(compareSummary([{ ...dead, peakC: 180 }], ANALYSIS).disagreements).toHaveLength(1);
  });

  it('is not compared where there is nothing to compare with', () => {
    const other = { ...JOINT, liquidusC: 183, secondsAboveLiquidus: 90 };
    const { disagreements, notCompared } = compareSummary([other, { ...JOINT, id: 'TC9' }], ANALYSIS);
    expect(disagreements).toEqual([]);
    expect(notCompared).toEqual([
      { thermocouple: 'TC1', figure: 'secondsAboveLiquidus', why: 'claimed above 183 C, analysed above 217 C' },
      { thermocouple: 'TC9', why: 'the trace has no channel of that name' },
    ]);
  });

  it('may claim more than a doubtful channel shows, not less', () => {
    const claim: ThermocoupleSummary = { id: 'clipped', position: 'air', peakC: 480 };
    expect(compareSummary([claim], ANALYSIS).disagreements).toEqual([]);
    expect(compareSummary([{ ...claim, peakC: 380 }], ANALYSIS).disagreements).toHaveLength(1);
  });
});
