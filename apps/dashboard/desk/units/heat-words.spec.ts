import { heatLength, peaksInWords } from './heat-words.js';

describe('The length of a heat', () => {
  it.each([
    ['2026-03-03T08:00:45Z', '45 s'],
    ['2026-03-03T08:06:00Z', '6 min'],
    ['2026-03-03T09:06:05+01:00', '6 min 5 s'],
  ])('until %s is %s', (endedAt, words) => {
    expect(heatLength({ startedAt: '2026-03-03T08:00:00Z', endedAt })).toBe(words);
  });
});

describe('Peaks', () => {
  const joint = { id: 'TC1', position: 'joint', peakC: 235.9, secondsAboveLiquidus: 73.5, liquidusC: 220 } as const;

  it('are told with where they were, how long over liquidus, and whether they governed', () => {
    const reading = {
      thermocouple: 'TC1',
      position: 'joint',
      peakC: 235.9,
      uncertaintyC: 1.5,
      uncertaintyFrom: 'station',
    } as const;
    const verdict = { counts: true, reading, alloy: 'SAC305', solidusC: 217, guardBandC: 5 };
    const count = { event: { source: 's', id: 'e' }, at: '', basis: 'measured', why: '', verdict } as const;
    const subject = { kind: 'device', device: 'K-1' } as const;
    const thermocouples = [joint, { id: 'TC2', position: 'body', refdes: 'U2', peakC: 90 }] as const;
    const verdicts = [{ kind: 'counted', limit: 'device-excursions', subject, count }] as const;
    expect(peaksInWords({ thermocouples, verdicts })).toEqual([
      'TC1 joint 235.9 °C, 73.5 s above 220 °C, governs',
      'TC2 body of U2 90 °C',
    ]);
  });

  it('are not told beyond eight', () => {
    const thermocouples = Array.from({ length: 10 }, (_, n) => ({ ...joint, id: `TC${n}` }));
    const words = peaksInWords({ thermocouples, verdicts: [] });
    expect([words.length, words.at(-1)]).toEqual([9, 'and 2 more']);
  });
});
