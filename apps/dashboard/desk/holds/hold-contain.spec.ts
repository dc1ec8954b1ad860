import { suspectsOf } from './hold-contain.js';
import { bareHold, causeWith, entryWith } from './spec-support/bare-hold.js';

describe('What may have gone wrong for others too', () => {
  const data = { profile: { name: 'U7-OFF', revision: 'B' }, lots: { flux: 'FX-1' } };
  const hold = bareHold({ operator: 'op-1', causes: [causeWith(entryWith({ data }))] });

  it('is the station, the operator, the profile and the lots of the cause', () => {
    expect(suspectsOf(hold).map(({ words }) => words)).toEqual([
      'station BENCH-1',
      'operator op-1',
      'profile U7-OFF, revision B',
      'lot FX-1',
    ]);
  });

  it('leads to a day that the cause is in', () => {
    const [first] = suspectsOf(hold);
    const asked = new URLSearchParams(first?.href.split('?')[1]);
    const [from, to] = [asked.get('from') ?? '', asked.get('to') ?? ''].map((at) => Date.parse(at));
    const at = Date.parse('2026-03-03T08:55:00Z');
    expect(asked.get('station')).toBe('BENCH-1');
    expect(from).toBeLessThanOrEqual(at);
    expect(to).toBeGreaterThan(at);
  });

  it('is what people put on hold by itself', () => {
    const subject = { kind: 'profile', name: 'U7-OFF', revision: 'B' } as const;
    expect(suspectsOf(bareHold({ subject, station: null })).map(({ words }) => words)).toEqual([
      'profile U7-OFF, revision B',
    ]);
  });

  it('is nothing where people raised it on a board', () => {
    expect(suspectsOf(bareHold())).toEqual([]);
  });
});
