import { closeRanges, heatAreas, spreadOut, wholeRanges } from './heat-curves-areas.js';
import { drawnSeries } from './heat-curves-series.js';

const lines = [
  { atC: 212, label: 'counts from' },
  { atC: 217, label: 'solidus' },
];
const curve = {
  name: 'reflow',
  seconds: [0, 100, 110, 120, 300],
  channels: [
    { name: 'TC1', atC: [25, 200, 230, 200, 30] },
    { name: 'TC2', atC: [25, 150, 160, 150, 30] },
  ],
};
const series = drawnSeries([curve]);
const above = [{ channel: 'TC1', fromS: 104, toS: 116 }];

describe('What was over a line', () => {
  it('is closed on the line where the curve crossed it', () => {
    expect(heatAreas(series, above, lines)).toEqual([
      {
        series: 0,
        overC: 212,
        points: [
          { s: 104, c: 212 },
          { s: 110, c: 230 },
          { s: 116, c: 212 },
        ],
      },
    ]);
  });

  it('is over a line of its own where it says so, and belongs to the heat that it names', () => {
    const [area] = heatAreas(series, [{ ...above[0], channel: 'TC1', fromS: 104, toS: 116, overC: 220 }], lines);
    expect(area?.overC).toBe(220);
    expect(heatAreas(series, [{ curve: 'other', channel: 'TC1', fromS: 0, toS: 300 }], lines)).toEqual([]);
  });

  it('is nothing without a line or without a sample', () => {
    expect(heatAreas(series, above, [])).toEqual([]);
    expect(heatAreas(series, [{ channel: 'TC2', fromS: 104, toS: 116 }], lines)).toEqual([]);
  });
});

describe('The axes', () => {
  const whole = wholeRanges(series, lines);

  it('show every sample and every line, with room', () => {
    expect(whole.s).toEqual([0, 300]);
    expect(whole.c[0]).toBeLessThan(25);
    expect(whole.c[1]).toBeGreaterThan(230);
    const high = wholeRanges(series, [{ atC: 260, label: 'class temperature' }]);
    expect(high.c[1]).toBeGreaterThan(260);
  });

  it('come close to what was over the line, and no closer where nothing was', () => {
    const close = closeRanges(whole, heatAreas(series, above, lines), lines);
    expect(close.s).toEqual([84, 136]);
    expect(close.c[0]).toBe(187);
    expect(closeRanges(whole, [], lines)).toBe(whole);
  });

  it('are something even where there is no sample', () => {
    expect(wholeRanges([], [])).toEqual({ s: [0, 1], c: [0, 1] });
  });
});

describe('Labels', () => {
  it.each([
    ['stay where they belong when there is room', [10, 50], [10, 50]],
    ['give way downwards', [10, 12, 14], [10, 22, 34]],
    ['give way upwards at the end', [10, 95, 99], [10, 88, 100]],
  ])('%s', (_, wanted, places) => {
    expect(spreadOut(wanted, 12, 100)).toEqual(places);
  });
});
