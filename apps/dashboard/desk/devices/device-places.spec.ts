import { devicePlaces, formerName } from './device-places.js';

const PLACE = { assembly: 'A-1', serial: '0103', refdes: 'U1' };
const entry = (seq: number, ...effects: readonly object[]) => ({
  seq,
  time: '2026-03-03T07:00:00Z',
  effects: [...effects],
});
const off = { kind: 'unmounted', unit: 'A-1/0103', refdes: 'U1', device: 'D', at: '2026-03-03T08:00:00Z' };

describe('The places of a device', () => {
  it('are told in order: where it came in, where it was put, where it was taken off', () => {
    const places = devicePlaces([
      entry(1, { kind: 'device-opened', device: 'D', part: null, place: null, prior: {} }),
      entry(
        2,
        { kind: 'mounted', device: 'D', place: PLACE, how: 'placed', at: '2026-03-03T07:30:00Z' },
        { kind: 'counted' },
      ),
      entry(3, { ...off, to: 'scrapped' }),
    ]);
    expect(places).toEqual([
      { at: '2026-03-03T07:00:00Z', unit: null, refdes: null, how: 'came in loose', seq: 1 },
      { at: '2026-03-03T07:30:00Z', unit: 'A-1/0103', refdes: 'U1', how: 'placed', seq: 2 },
      { at: '2026-03-03T08:00:00Z', unit: null, refdes: null, how: 'taken off A-1/0103, U1 and scrapped', seq: 3 },
    ]);
  });

  it('are none where the ledger tells of none', () => {
    expect(devicePlaces([entry(1, { kind: 'balls' }), { ...entry(2), effects: [null, 'x'] }])).toEqual([]);
  });
});

it('The name that a device had before its label was read', () => {
  const named = { kind: 'device-named', device: 'D', formerly: 'A-1:0103:U1' };
  expect(formerName([entry(1, named, { ...off, to: 'loose' })])).toBe('A-1:0103:U1');
  expect(formerName([entry(1)])).toBeUndefined();
});
