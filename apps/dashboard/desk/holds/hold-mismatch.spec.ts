import { exchanged, mismatches } from './hold-mismatch.js';

const SWAPPED = [
  'thermocouple Die, peakC: 235.6 said; the summary says 5.80 less than the trace, 2.00 is allowed',
  'thermocouple Die, secondsAboveLiquidus: 49.2 said; the summary says 7.02 less than the trace, 5.62 is allowed',
  'thermocouple Joint, peakC: 241.4 said; the summary says 5.80 more than the trace, 2.00 is allowed',
  'thermocouple Joint, secondsAboveLiquidus: 56.2 said; the summary says 6.96 more than the trace, 4.92 is allowed',
];

describe('A summary that disagrees with its trace', () => {
  it('shows both figures', () => {
    const { rows, others } = mismatches(SWAPPED);
    expect(rows.map(({ thermocouple, said, trace, unit }) => [thermocouple, said, trace, unit])).toEqual([
      ['Die', 235.6, 241.4, '°C'],
      ['Die', 49.2, 56.22, 's'],
      ['Joint', 241.4, 235.6, '°C'],
      ['Joint', 56.2, 49.24, 's'],
    ]);
    expect(others).toEqual([]);
  });

  it('keeps the words of what is no pair of figures', () => {
    const open = 'thermocouple T1, peakC: 240 said; the trace shows this channel open: no reading';
    expect(mismatches([open])).toEqual({ rows: [], others: [open] });
  });

  it('reads falls without their sign', () => {
    const fall = 'thermocouple T1, maxFallCPerS: -3.1 said; the summary says 1.20 more than the trace, 0.50 is allowed';
    expect(mismatches([fall]).rows[0]).toMatchObject({ said: 3.1, trace: 1.9 });
  });

  it('is seen to be two thermocouples exchanged, and only where all figures say so', () => {
    const { rows } = mismatches(SWAPPED);
    expect(exchanged(rows)).toEqual(['Die', 'Joint']);
    expect(exchanged(rows.slice(0, 3))).toBeNull();
    expect(exchanged(rows.map((row) => ({ ...row, said: row.said + 9 })))).toBeNull();
  });
});
