import { asJson, inWords, reportOf } from './report.js';

const REPORT = reportOf(
  { title: 'intake', what: 'events', notes: () => [{ name: 'bytes an event', unit: 'bytes', value: 1843.4 }] },
  {
    figures: [{ name: 'batches', unit: 'events/s', value: 9512.3, runs: 3, min: 9001.2, max: 9876.5 }],
    ratios: [
      { name: 'batches/copy', value: 0.1234, runs: 3, min: 0.1, max: 0.2, goal: { atLeast: 0.2 }, reached: false },
      { name: 'wait/lock', value: 3, runs: 3, min: 2.5, max: 3.25, goal: { atMost: 4 }, reached: true },
    ],
  },
);

describe('the report of a bench', () => {
  it('tells a person figures, spread, and which goals are reached', () => {
    expect(
      inWords(REPORT)
        .split('\n')
        .map((line) => line.trim().replace(/ +/g, ' ')),
    ).toEqual([
      '',
      'intake: events',
      '9512 events/s batches (9001 to 9877)',
      '1843 bytes bytes an event',
      '0.123 x batches/copy (0.1 to 0.2), goal at least 0.2: not reached',
      '3 x wait/lock (2.5 to 3.25), goal at most 4: reached',
      '',
    ]);
  });

  it('tells a program machine, ratios and figures, notes among these', () => {
    const machine = { cores: 2, processor: 'p', memoryGb: 24, node: 'v20' };
    expect(JSON.parse(asJson(machine, [REPORT]))).toEqual({
      machine,
      ratios: REPORT.ratios,
      figures: [
        ...REPORT.figures,
        { name: 'bytes an event', unit: 'bytes', value: 1843.4, runs: 1, min: 1843.4, max: 1843.4 },
      ],
    });
  });
});
