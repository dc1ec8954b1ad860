import fc from 'fast-check';
import { orderTime } from '../../domain/events/event-order.js';
import { isBefore, isEventTime } from './event-time.js';

describe('time of an event', () => {
  it.each([
    '2031-05-09T14:03:27+02:00',
    '2031-05-09t14:03:27.123456789z',
    '2028-02-29T23:59:59-12:00',
    '1970-01-01T00:00:00Z',
  ])('takes %s', (text) => {
    expect(isEventTime(text)).toBe(true);
  });

  it.each([
    '2031-02-29T00:00:00Z',
    '2100-02-29T00:00:00Z',
    '2031-04-31T00:00:00Z',
    '2031-05-00T00:00:00Z',
    '2031-13-01T00:00:00Z',
    '2031-05-09T24:00:00Z',
    '2031-05-09T23:59:60Z',
    '2031-05-09T14:03:27',
    '2031-05-09 14:03:27Z',
    '2031-05-09T14:03:27+24:00',
    '0001-01-01T00:00:00+01:00',
    '9999-12-31T23:59:59-01:00',
    '09.05.2031',
    '',
  ])('refuses %s', (text) => {
    expect(isEventTime(text)).toBe(false);
  });

  it('takes only what has a place in the order of events, and that to the second it names', () => {
    const digits = (most: number): fc.Arbitrary<string> => fc.nat(most).map((value) => String(value).padStart(2, '0'));
    const time = fc
      .tuple(
        fc.nat(9999),
        digits(13),
        digits(32),
        digits(25),
        digits(61),
        digits(61),
        fc.constantFrom('Z', '+14:00', '-12:30'),
      )
      .map(([year, month, day, hour, minute, second, offset]) => {
        const date = `${String(year).padStart(4, '0')}-${month}-${day}`;
        return { date, offset, text: `${date}T${hour}:${minute}:${second}${offset}` };
      });
    fc.assert(
      fc.property(time, ({ text, date, offset }) => {
        if (!isEventTime(text)) return;
        const at = orderTime(text);
        expect(at).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.0{9}Z$/);
        if (offset === 'Z') expect(at.slice(0, 10)).toBe(date);
      }),
      { numRuns: 2000 },
    );
  });
});

describe('which of two times comes first', () => {
  it('is told as by their places in the order of events', () => {
    const fraction = fc.oneof(
      fc.constantFrom('', '.0', '.1', '.000000001', '.00000000101', '.00000000109'),
      fc.stringMatching(/^\.[0-9]{1,12}$/),
    );
    const moment = fc
      .tuple(fc.constantFrom('30', '31'), fc.constantFrom('T', 't'), fc.nat(3), fraction)
      .map(([day, t, second, part]) => `2031-05-${day}${t}23:59:0${second}${part}`);
    const time = fc
      .tuple(moment, fc.constantFrom('Z', 'z', '+00:00', '-00:00', '+02:00', '-02:00', '+23:59'))
      .map((parts) => parts.join(''));
    fc.assert(
      fc.property(time, time, (a, b) => {
        expect(isEventTime(a) && isEventTime(b)).toBe(true);
        expect(isBefore(a, b)).toBe(orderTime(a) < orderTime(b));
      }),
      { numRuns: 5000 },
    );
  });
});
