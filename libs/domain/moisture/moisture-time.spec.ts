import fc from 'fast-check';
import { orderTime } from '../events/event-order.js';
import { laterBy, millisecondsBetween } from './moisture-time.js';

/** Normalised times of all years, those included that an offset takes beyond the year 9999. */
const time = fc
  .tuple(
    fc.date({ min: new Date('0000-01-01T00:00:00Z'), max: new Date('9999-12-31T23:59:59Z'), noInvalidDate: true }),
    fc.constantFrom('Z', 'Z', '+01:00', '-01:00'),
  )
  .map(([date, offset]) => orderTime(date.toISOString().replace('Z', offset)));

describe('time between normalised times', () => {
  it('is what Date says of them', () => {
    fc.assert(
      fc.property(time, time, (from, to) => {
        const ms = (at: string): number => Date.parse(`${at.slice(0, 19)}Z`);
        const fractions = (Number(to.slice(20, 29)) - Number(from.slice(20, 29))) / 1e6;
        expect(millisecondsBetween(from, to)).toBe(ms(to) - ms(from) + fractions);
      }),
    );
  });

  it.each([
    ['0099-12-31T23:59:59.000000000Z', 1000, '0100-01-01T00:00:00.000000000Z'],
    ['2028-02-28T23:59:59.500000000Z', 500, '2028-02-29T00:00:00.000000000Z'],
    ['2028-02-28T23:59:59.000001000Z', 0, '2028-02-28T23:59:59.001000000Z'],
    ['9999-12-31T23:59:59.000000000Z', 1000, null],
  ])('from %s by %d ms is %s', (at, ms, later) => {
    expect(laterBy(at, ms)).toBe(later);
  });
});
