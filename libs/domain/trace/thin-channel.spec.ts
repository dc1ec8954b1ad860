import { MISSING, READ, TraceChannel } from './trace.js';
import { thinChannel } from './thin-channel.js';

function channel(values: readonly number[], missing: readonly number[] = []): TraceChannel {
  const marks = Uint8Array.from(values, (_, index) => (missing.includes(index) ? MISSING : READ));
  return { name: 'TC1', unit: 'C', values: Float64Array.from(values), marks };
}

const seconds = (count: number): Float64Array => Float64Array.from({ length: count }, (_, index) => index);

describe('a curve with fewer points', () => {
  it('keeps a peak of one reading, and the lowest one', () => {
    const values = Array.from({ length: 5000 }, (_, index) => 100 + (index % 7));
    values[3333] = 241.5;
    values[1111] = 12;
    const points = thinChannel({ seconds: seconds(5000) }, channel(values), 50, []).flat();
    expect(points.length).toBeLessThanOrEqual(4 * 51);
    expect(points).toContainEqual([3333, 241.5]);
    expect(points).toContainEqual([1111, 12]);
    expect(points[0]).toEqual([0, 100]);
    expect(points.at(-1)?.[0]).toBe(4999);
  });

  it('keeps both readings about each crossing of a line', () => {
    const values = Array.from({ length: 1000 }, (_, index) => (index < 437 || index > 611 ? 200 + index / 1e4 : 225));
    const points = thinChannel({ seconds: seconds(1000) }, channel(values), 3, [212]).flat();
    expect(points.map(([at]) => at)).toEqual(expect.arrayContaining([436, 437, 611, 612]));
  });

  it('is apart where readings are missing, and joined over a single one', () => {
    const values = Array.from({ length: 60 }, () => 50);
    const lost = Array.from({ length: 10 }, (_, index) => 20 + index);
    const pieces = thinChannel({ seconds: seconds(60) }, channel(values, [5, ...lost]), 60, []);
    expect(pieces.map((piece) => [piece[0]?.[0], piece.at(-1)?.[0]])).toEqual([
      [0, 19],
      [30, 59],
    ]);
  });

  it('is nothing where nothing was read', () => {
    expect(thinChannel({ seconds: seconds(3) }, channel([1, 2, 3], [0, 1, 2]), 10, [])).toEqual([]);
  });
});
