import { isTimeZone, readLocalTime, timeFormat, TimeReading } from './local-time.js';

const read = (text: string, format: string, zone = 'Europe/Berlin', tie = 0): TimeReading =>
  readLocalTime(text, timeFormat(format), zone, tie);

it.each([
  ['04.03.2026 09:10', 'dd.MM.yyyy HH:mm', '2026-03-04T09:10:00+01:00'],
  ['4.7.26  9:05', 'd.M.yy H:mm', '2026-07-04T09:05:00+02:00'],
  ['07/04/2026 12:30 AM', 'MM/dd/yyyy hh:mm a', '2026-07-04T00:30:00+02:00'],
  ['7/4/2026 1:30:15 pm', 'M/d/yyyy h:mm:ss a', '2026-07-04T13:30:15+02:00'],
  ['04.03.2026', 'dd.MM.yyyy', '2026-03-04T00:00:00+01:00'],
  ['2026-03-04 09:10', 'iso', '2026-03-04T09:10:00+01:00'],
  ['2026-03-04T09:10:11.250Z', 'iso', '2026-03-04T09:10:11.250+00:00'],
  ['2026-03-04T09:10:11-05:30', 'iso', '2026-03-04T09:10:11-05:30'],
  ['46085.5', 'excel', '2026-03-04T12:00:00+01:00'],
  ['46085,381944', 'excel', '2026-03-04T09:10:00+01:00'],
])('reads %j as %s', (text, format, time) => {
  expect(read(text, format)).toEqual({ time });
});

it.each([
  ['31.04.2026 09:10', 'dd.MM.yyyy HH:mm'],
  ['04.03.2026 24:10', 'dd.MM.yyyy HH:mm'],
  ['04.03.2026 09:60', 'dd.MM.yyyy HH:mm'],
  ['4.3.2026 09:10', 'dd.MM.yyyy HH:mm'],
  ['04-03-2026 09:10', 'dd.MM.yyyy HH:mm'],
  ['7/4/2026 13:30 pm', 'M/d/yyyy h:mm a'],
  ['yesterday', 'iso'],
  ['', 'excel'],
  ['12', 'excel'],
])('refuses %j as %s', (text, format) => {
  expect(read(text, format)).toEqual({ fault: `"${text}" is no time of the form ${format}` });
});

it('knows of the hours that clocks leave out, and says which of two it takes', () => {
  expect(read('29.03.2026 02:30', 'dd.MM.yyyy HH:mm')).toEqual({
    fault: expect.stringContaining('put forward') as string,
  });
  expect(read('25.10.2026 02:30', 'dd.MM.yyyy HH:mm')).toEqual({
    time: '2026-10-25T02:30:00+02:00',
    note: expect.stringContaining('twice') as string,
  });
  expect(read('29.03.2026 02:30', 'dd.MM.yyyy HH:mm', 'UTC')).toEqual({ time: '2026-03-29T02:30:00+00:00' });
  expect(read('04.03.2026 09:10', 'dd.MM.yyyy HH:mm', 'America/St_Johns')).toEqual({
    time: '2026-03-04T09:10:00-03:30',
  });
});

it('keeps apart by milliseconds what a log writes at the same time', () => {
  expect(read('04.03.2026 09:10', 'dd.MM.yyyy HH:mm', 'UTC', 12)).toEqual({ time: '2026-03-04T09:10:00.012+00:00' });
});

it.each(['HH:mm', 'dd.MM HH:mm', 'dd.MM.yyyy hh:mm', 'dd.MM.yyyy QQ'])('refuses the format %j', (format) => {
  expect(() => timeFormat(format)).toThrow(RangeError);
});

it('knows time zones by name', () => {
  expect([isTimeZone('Europe/Berlin'), isTimeZone('Mordor/Barad-dur')]).toEqual([true, false]);
});
