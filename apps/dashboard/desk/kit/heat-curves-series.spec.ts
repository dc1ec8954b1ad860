import { drawnSeries, joinedSeries, readingAt, secondsOver } from './heat-curves-series.js';

const heat = { name: 'reflow', seconds: [0, 10, 20, 30], channels: [{ name: 'TC1', atC: [25, 215, 235, 25] }] };

function only(
  curve: typeof heat | { name: string; seconds: number[]; channels: { name: string; atC: (number | null)[] }[] },
) {
  const [one] = drawnSeries([curve]);
  if (one === undefined) throw new Error('the curve has no channel');
  return one;
}

describe('The series of a plot', () => {
  it('are named by their channel, and by their heat too where there are several', () => {
    expect(drawnSeries([heat]).map(({ name }) => name)).toEqual(['TC1']);
    expect(drawnSeries([heat, { ...heat, name: 'removal' }]).map(({ name }) => name)).toEqual([
      'reflow · TC1',
      'removal · TC1',
    ]);
  });

  it('never share number, nor colour and dash together, up to 36', () => {
    const channels = Array.from({ length: 36 }, (_, n) => ({ name: `TC${n}`, atC: [n] }));
    const drawn = drawnSeries([{ name: 'h', seconds: [0], channels }]);
    expect(new Set(drawn.map(({ mark }) => mark)).size).toBe(36);
    expect(new Set(drawn.map(({ colour, dash }) => `${colour}/${dash.join()}`)).size).toBe(36);
  });

  it('know their peak, the first of equals, and none in an empty channel', () => {
    expect(only({ ...heat, channels: [{ name: 'TC1', atC: [null, 9, 9, 1] }] }).peak).toEqual({ atS: 10, atC: 9 });
    expect(only({ ...heat, channels: [{ name: 'TC1', atC: [null, null, null, null] }] }).peak).toBeNull();
  });

  it('are joined over the seconds of all, a gap of their own kept apart from a sample of others', () => {
    const other = { name: 'removal', seconds: [5, 10], channels: [{ name: 'TC1', atC: [1, null] }] };
    expect(joinedSeries(drawnSeries([heat, other]))).toEqual([
      [0, 5, 10, 20, 30],
      [25, undefined, 215, 235, 25],
      [undefined, 1, null, undefined, undefined],
    ]);
  });
});

describe('A series is read', () => {
  it('between two samples in proportion, and at a sample exactly', () => {
    expect(readingAt(only(heat), 15)).toBe(225);
    expect(readingAt(only(heat), 20)).toBe(235);
  });

  it('as nothing beyond its ends and beside a gap', () => {
    const gap = only({ ...heat, channels: [{ name: 'TC1', atC: [25, null, 235, 25] }] });
    expect([readingAt(gap, -1), readingAt(gap, 31), readingAt(gap, 15), readingAt(gap, 5)]).toEqual([
      null,
      null,
      null,
      null,
    ]);
  });
});

describe('Seconds over a line', () => {
  it('are counted from crossing to crossing', () => {
    // Up through 225 at 15 s, down through it 10/210 of the way from 20 to 30 s.
    expect(secondsOver(only(heat), 225)).toBeCloseTo(5 + 10 * (10 / 210), 9);
    expect(secondsOver(only(heat), 20)).toBe(30);
    expect(secondsOver(only(heat), 240)).toBe(0);
  });

  it('leave out what was not measured', () => {
    expect(secondsOver(only({ ...heat, channels: [{ name: 'TC1', atC: [250, null, 250, 250] }] }), 217)).toBe(10);
  });
});
