import { closed, instantsOf, lastDays, periodWords, readPeriod, withEnd, writePeriod } from './period.js';

describe('A period in an address', () => {
  it('is read as days; what is none is left out', () => {
    expect(readPeriod(new URLSearchParams('from=2026-03-01&to=2026-03-09'))).toEqual({
      from: '2026-03-01',
      to: '2026-03-09',
    });
    expect(readPeriod(new URLSearchParams('from=yesterday&to=2026-02-31'))).toEqual({});
  });

  it('is written beside what else the address says', () => {
    const params = new URLSearchParams('operator=op-7&to=2026-03-09');
    expect(writePeriod(params, { from: '2026-03-01' }).toString()).toBe('operator=op-7&from=2026-03-01');
  });

  it('has an end moved, or opened', () => {
    expect(withEnd({ from: '2026-03-01' }, 'to', '2026-03-09')).toEqual({ from: '2026-03-01', to: '2026-03-09' });
    expect(withEnd({ from: '2026-03-01' }, 'from', '')).toEqual({});
  });

  it('takes in its last day as a whole', () => {
    const { from, to } = instantsOf({ from: '2026-03-01', to: '2026-03-01' });
    expect(Date.parse(to ?? '') - Date.parse(from ?? '')).toBe(86_400_000);
    expect(instantsOf({})).toEqual({});
  });

  it('of the last days has today among them', () => {
    const noon = new Date(2026, 2, 3, 12).getTime();
    expect(lastDays(1, noon)).toEqual({ from: '2026-03-03' });
    expect(lastDays(7, noon)).toEqual({ from: '2026-02-25' });
  });

  it('is closed: by the newest there is, by today, and a month back', () => {
    const newest = new Date(2026, 2, 3, 12).getTime();
    const now = new Date(2026, 10, 26, 1).getTime();
    expect(closed({}, newest, now)).toEqual({ from: '2026-02-02', to: '2026-03-03' });
    expect(periodWords(closed({}, newest, now))).toBe('from 2026-02-02 to 2026-03-03');
    expect(periodWords(closed({}, undefined, now))).toBe('up to 2026-11-26');
    expect(closed({ from: '2026-03-01' }, newest, now)).toEqual({ from: '2026-03-01', to: '2026-11-26' });
    expect(closed({ to: '2026-03-31' }, newest, now)).toEqual({ from: '2026-03-02', to: '2026-03-31' });
  });
});
