import fc from 'fast-check';
import { anyOrderTime, compareOrder, EventOrder, orderTime, readableTime, refKey } from './event-order.js';

const at = (time: string, source = '/stations/A', id = '1'): EventOrder => ({ source, id, at: orderTime(time) });

describe('the time of an event', () => {
  it.each([
    ['2031-03-03T10:00:00Z', '2031-03-03T10:00:00.000000000Z'],
    ['2031-03-03T10:00:00+02:00', '2031-03-03T08:00:00.000000000Z'],
    ['2031-03-03T00:30:00.25+05:45', '2031-03-02T18:45:00.250000000Z'],
    ['2031-12-31T23:59:59.999-00:30', '2032-01-01T00:29:59.999000000Z'],
    ['2031-03-03t10:00:00z', '2031-03-03T10:00:00.000000000Z'],
    ['2031-03-03 10:00:00.123456789Z', '2031-03-03T10:00:00.123456789Z'],
    ['2028-02-29T12:00:00Z', '2028-02-29T12:00:00.000000000Z'],
  ])('of %s is %s in UTC, with every digit kept', (written, normal) => {
    expect(orderTime(written)).toBe(normal);
  });

  it.each([
    '2031-03-03',
    '2031-03-03T10:00:00',
    'yesterday',
    '',
    '2031-13-01T00:00:00Z',
    '2031-03-03T10:00:60Z',
    '2031-03-03T10:00Z',
    // RFC 3339 section 5.6 and 5.7: the day must exist in its month, the hour goes from 00 to 23.
    '2031-02-30T10:00:00Z',
    '2031-03-03T24:00:00Z',
  ])('refuses %p, which is no RFC 3339 time', (written) => {
    expect(() => orderTime(written)).toThrow(RangeError);
  });

  it.each([
    ['2031-03-03T10:00:00Z', '2031-03-03T10:00:00Z'],
    ['2031-03-03T10:00:00.500Z', '2031-03-03T10:00:00.5Z'],
    ['2031-03-03T10:00:00.000000001Z', '2031-03-03T10:00:00.000000001Z'],
    ['2031-03-03T10:10:10Z', '2031-03-03T10:10:10Z'],
  ])('of %s reads %s', (written, readable) => {
    expect(readableTime(orderTime(written))).toBe(readable);
  });
});

describe('the short way to the time of an event', () => {
  const two = fc.integer({ min: 0, max: 99 }).map((figure) => String(figure).padStart(2, '0'));
  const fraction = fc.oneof(
    fc.constant(''),
    fc.stringMatching(/^\.\d{0,11}$/),
    fc.constantFrom('.', '.5 ', ',5', '.12x'),
  );
  const day = fc.oneof(
    fc
      .date({ min: new Date(-1e14), max: new Date(2e14), noInvalidDate: true })
      .map((date) => date.toISOString().slice(0, 10)),
    fc
      .tuple(two, two, fc.integer({ min: 0, max: 13 }), fc.integer({ min: 0, max: 32 }))
      .map(([century, year, month, on]) =>
        [`${century}${year}`, ...[month, on].map((figure) => String(figure).padStart(2, '0'))].join('-'),
      ),
    fc.constantFrom('2000-02-29', '1900-02-29', '0000-02-29', '2031-02-29', '2031-04-31', '9999-12-31', '2031/03-03'),
  );
  const clock = fc
    .tuple(fc.integer({ min: 0, max: 24 }), fc.integer({ min: 0, max: 60 }), fc.integer({ min: 0, max: 60 }))
    .map((figures) => figures.map((figure) => String(figure).padStart(2, '0')).join(':'));
  const offset = fc.constantFrom('Z', 'Z', 'Z', 'z', '', '+00:00', '-00:30', '+05:45', 'ZZ');
  const written = fc
    .tuple(day, fc.constantFrom('T', 'T', 'T', 't', ' ', '_'), clock, fraction, offset)
    .map((parts) => parts.join(''));

  it('gives what the long way gives, and refuses what that refuses', () => {
    const outcome = (of: (text: string) => string, text: string): string => {
      try {
        return of(text);
      } catch (error) {
        return String(error);
      }
    };
    fc.assert(
      fc.property(
        fc.oneof(
          written,
          written.map((text) => outcome(anyOrderTime, text)),
          fc.string(),
        ),
        (text) => {
          expect(outcome(orderTime, text)).toBe(outcome(anyOrderTime, text));
        },
      ),
      { numRuns: 3000 },
    );
  });
});

describe('the order of events', () => {
  it('is by when they happened, whatever the offset they were written with', () => {
    expect(compareOrder(at('2031-03-03T11:00:00+02:00'), at('2031-03-03T10:00:00Z'))).toBeLessThan(0);
    expect(compareOrder(at('2031-03-03T12:00:00+02:00'), at('2031-03-03T10:00:00Z'))).toBe(0);
  });

  it('tells apart what is closer than a millisecond', () => {
    expect(compareOrder(at('2031-03-03T10:00:00.0000002Z'), at('2031-03-03T10:00:00.0000001Z'))).toBeGreaterThan(0);
    expect(compareOrder(at('2031-03-03T10:00:00.9Z'), at('2031-03-03T10:00:00.10Z'))).toBeGreaterThan(0);
  });

  it('goes by source and then by id where the times are equal', () => {
    const time = '2031-03-03T10:00:00Z';
    expect(compareOrder(at(time, '/stations/A', '9'), at(time, '/stations/B', '1'))).toBeLessThan(0);
    expect(compareOrder(at(time, '/stations/A', '2'), at(time, '/stations/A', '1'))).toBeGreaterThan(0);
    expect(compareOrder(at(time, '/stations/a', '1'), at(time, '/stations/B', '1'))).toBeGreaterThan(0);
  });

  it('is total: sorting any arrangement gives the same list', () => {
    const events = ['2031-03-03T10:00:00Z', '2031-03-03T09:00:00-02:00', '2031-03-03T10:00:00.5Z'].flatMap((time) =>
      ['/stations/A', '/stations/B'].flatMap((source) => ['1', '2', '10'].map((id) => at(time, source, id))),
    );
    const sorted = [...events].sort(compareOrder);
    expect([...events].reverse().sort(compareOrder)).toEqual(sorted);
    for (const [n, event] of sorted.entries()) {
      const next = sorted[n + 1];
      if (next !== undefined) expect(compareOrder(event, next)).toBeLessThan(0);
    }
  });

  it('knows an event by its source and id alone', () => {
    expect(refKey({ source: '/stations/A', id: '1' })).not.toBe(refKey({ source: '/stations/A', id: '11' }));
  });
});
