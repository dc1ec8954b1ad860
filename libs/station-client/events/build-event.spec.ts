import { buildEvent, deviceSubject, stationSubject, unitSubject } from './build-event.js';
import { EventIds } from './event-id.js';

it('makes an event that is complete', () => {
  const event = buildEvent({
    type: 'heatbook.site.cleaned.v1',
    station: 'HOTGAS-1',
    subject: unitSubject('ZIB-PANEL-1', '0103'),
    data: { refdes: 'U1', agent: 'solvent' },
    time: new Date('2031-05-09T12:00:00.250Z'),
    extensions: { shift: 'late' },
  });
  expect(event).toEqual({
    specversion: '1.0',
    type: 'heatbook.site.cleaned.v1',
    source: '/stations/HOTGAS-1',
    id: event.id,
    subject: 'ZIB-PANEL-1/0103',
    time: '2031-05-09T12:00:00.250Z',
    data: { refdes: 'U1', agent: 'solvent' },
    shift: 'late',
  });
  expect(event.id).toMatch(/^[0-9a-f]{11}-[0-9a-f]{4}-[0-9a-f]{16}$/);
  expect([deviceSubject('K-1'), stationSubject('BATH-1')]).toEqual(['devices/K-1', 'stations/BATH-1']);
});

it('makes ids that sort as they were made, also within an instant and when the clock is set back', () => {
  const ids = new EventIds();
  const made: string[] = [];
  for (const nowMs of [1_000, 1_000, 900, 1_001, 500]) made.push(ids.next(nowMs));
  // More within one instant than the counter has room for.
  for (let n = 0; n < 70_000; n += 1) made.push(ids.next(1_001));
  made.push(ids.next(1_002), ids.next(5_000));
  expect([...made].sort()).toEqual(made);
  expect(new Set(made).size).toBe(made.length);
  expect(new EventIds().next(1_000)).not.toBe(made[0]);
});
