import { StationEvent } from '../../domain/events/station-event.js';
import { PendingEvent } from '../ports/book-store.js';
import { leaveWaiting } from './leave-waiting.js';

/** An event of a unit or device that names a device, or none. */
function pending(id: string, subject: string, device?: string): PendingEvent {
  const order = { at: '2030-01-01T00:00:00.000000000Z', source: '/stations/S', id };
  const about = { subject, station: 'S', order, time: '2030-01-01T00:00:00Z' };
  const event: StationEvent =
    device === undefined
      ? { ...about, type: 'heatbook.unit.shipped.v1', data: {} }
      : { ...about, type: 'heatbook.inspection.recorded.v1', data: inspected(device) };
  return { number: id, event, attempts: 0, retried: false };
}

function inspected(device: string) {
  return { target: { kind: 'device', device }, technique: 'visual', result: 'pass' } as const;
}

const ids = (events: readonly PendingEvent[]) => events.map(({ number }) => number);

describe('leaving out what others are telling', () => {
  const events = [
    pending('1', 'B/1'),
    pending('2', 'B/1', 'D-1'),
    pending('3', 'B/2', 'D-2'),
    pending('4', 'B/3', 'D-1'),
    pending('5', 'B/3', 'D-3'),
    pending('6', 'devices/D-3'),
    pending('7', 'B/4'),
  ];

  it('leaves all where nobody else tells anything', () => {
    expect(ids(leaveWaiting(events, []))).toEqual(['1', '2', '3', '4', '5', '6', '7']);
  });

  it('takes out whole stories, over units and devices that they share, and nothing else', () => {
    expect(ids(leaveWaiting(events, ['devices/D-1']))).toEqual(['3', '7']);
    expect(ids(leaveWaiting(events, ['devices/D-2']))).toEqual(['1', '2', '4', '5', '6', '7']);
    expect(ids(leaveWaiting(events, ['devices/D-9']))).toHaveLength(7);
  });
});
