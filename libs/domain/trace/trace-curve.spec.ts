import { MISSING, OPEN, READ, Trace } from './trace.js';
import { traceCurve } from './trace-curve.js';

type Cell = number | null | 'open';

function trace(seconds: readonly number[], columns: Readonly<Record<string, readonly Cell[]>>): Trace {
  const channels = Object.entries(columns).map(([name, cells]) => ({
    name,
    unit: 'C' as const,
    values: Float64Array.from(cells, (cell) => (typeof cell === 'number' ? cell : 0)),
    marks: Uint8Array.from(cells, (cell) => (cell === null ? MISSING : cell === 'open' ? OPEN : READ)),
  }));
  return { seconds: Float64Array.from(seconds), channels, notes: [] };
}

const upTo = (count: number): number[] => Array.from({ length: count }, (_, index) => index);
/** A smooth heat of an hour: up to 235 C in the middle. */
const hill = (second: number): number => 25 + 210 * Math.exp(-(((second - 1800) / 400) ** 2));

describe('the curve of a trace', () => {
  it('has far fewer points, with every peak and both readings about every crossing in their places', () => {
    const seconds = upTo(3600);
    const joint = seconds.map(hill);
    const die = seconds.map((second) => hill(second) - 20);
    const curve = traceCurve(trace(seconds, { Joint: joint, Die: die }), { points: 100, liquidusC: 217 });
    expect([curve.samples, curve.kept]).toEqual([3600, curve.seconds.length]);
    expect(curve.kept).toBeLessThan(220);
    const [first] = curve.channels;
    expect(first).toMatchObject({ name: 'Joint', state: 'ok', peakC: 235 });
    expect(first?.atC[curve.seconds.indexOf(1800)]).toBe(235);
    expect(curve.above).toHaveLength(1);
    const [{ fromS, toS } = { fromS: 0, toS: 0 }] = curve.above;
    for (const second of [Math.floor(fromS), Math.ceil(fromS), Math.floor(toS), Math.ceil(toS)])
      expect(curve.seconds).toContain(second);
    for (const [index, second] of curve.seconds.entries()) {
      expect(first?.atC[index]).toBeCloseTo(hill(second), 2);
    }
  });

  it('leaves out what the analysis leaves out: spikes and open inputs', () => {
    const seconds = upTo(600);
    const spiked = seconds.map((second) => (second === 300 ? 560 : 100 + second / 10));
    const { channels } = traceCurve(trace(seconds, { Body: spiked, Gone: seconds.map(() => 'open') }), {
      points: 600,
      liquidusC: null,
    });
    expect(channels[0]?.peakC).toBeCloseTo(159.9);
    expect(Math.max(...(channels[0]?.atC ?? []).map((celsius) => celsius ?? 0))).toBeCloseTo(159.9);
    expect(channels[1]).toMatchObject({ name: 'Gone', state: 'open', peakC: null });
    expect(channels[1]?.atC.every((celsius) => celsius === null)).toBe(true);
  });

  it('is apart where readings are missing, joined over a single one, and nothing before the first', () => {
    const seconds = upTo(200);
    const cells = seconds.map((second) => (second < 3 || second === 50 || (second > 99 && second < 140) ? null : 80));
    const { seconds: shown, channels } = traceCurve(trace(seconds, { Board: cells, Air: seconds.map(() => 60) }), {
      points: 50,
      liquidusC: null,
    });
    const atC = (second: number): number | null | undefined => channels[0]?.atC[shown.indexOf(second)];
    expect(shown.filter((second) => atC(second) === null && second > 2)).not.toEqual([]);
    expect(shown.every((second) => (atC(second) === null) === (second < 3 || (second > 99 && second < 140)))).toBe(
      true,
    );
    expect([atC(99), atC(140)]).toEqual([80, 80]);
    expect(channels[1]?.atC.every((celsius) => celsius === 60)).toBe(true);
  });

  it('is apart where the whole log stood still', () => {
    const seconds = [...upTo(100), ...upTo(100).map((second) => second + 500)];
    const curve = traceCurve(trace(seconds, { Joint: seconds.map(() => 30) }), { points: 50, liquidusC: null });
    const nulls = curve.seconds.filter((_, index) => curve.channels[0]?.atC[index] === null);
    expect(nulls).toEqual([299.5]);
    expect([curve.samples, curve.kept]).toEqual([200, curve.seconds.length - 1]);
  });

  it('stays small for a channel that hovers about the line and for many that differ', () => {
    const seconds = upTo(20_000);
    const columns = Object.fromEntries(
      upTo(20).map((channel) => [
        `T${String(channel)}`,
        seconds.map((second) => 216 + ((second * 7 + channel * 13) % 11) / 5 + channel / 100),
      ]),
    );
    const curve = traceCurve(trace(seconds, columns), { points: 200, liquidusC: 217 });
    expect(curve.kept).toBeLessThanOrEqual(4 * 200 + 2 * 20);
    for (const { atC, peakC } of curve.channels) {
      expect(Math.max(...atC.map((celsius) => celsius ?? 0))).toBeCloseTo(peakC ?? NaN, 2);
    }
  });

  it('has every row of a short trace', () => {
    const seconds = upTo(5).map((row) => row * 30);
    const curve = traceCurve(trace(seconds, { Joint: [20, 90, 230, 230, 40] }), { points: 50, liquidusC: 217 });
    expect(curve.seconds).toEqual(seconds);
    expect(curve.channels[0]?.atC).toEqual([20, 90, 230, 230, 40]);
  });
});
