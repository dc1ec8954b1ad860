import { STATION_EVENT_TYPES, StationEventType } from '../../domain/events/station-event.js';
import { BOOK_ENTRY_TYPES } from '../../ledger/fold/book-effect.js';
import { epcisFaults } from '../../../test/support/epcis-schema.js';
import { epcisSamples as samples, sampleEntry as entry } from '../spec-support/epcis-samples.js';
import { EpcisEvent } from './epcis-event.js';
import { epcisTime } from './epcis-time.js';
import { eventId } from './event-id.js';
import { eventsOfEntry } from './events-of-entry.js';
import { HouseUris } from './house-uris.js';
import { whyLeftOut } from './left-out.js';
import { EPCIS_CONTEXT } from './own-terms.js';

const uris = new HouseUris('rework.example/book');

function faultsOf(eventList: readonly EpcisEvent[]): readonly string[] {
  const head = { '@context': EPCIS_CONTEXT, type: 'EPCISDocument', schemaVersion: '2.0' };
  const document = { ...head, creationDate: '2031-03-04T00:00:00Z', epcisBody: { eventList } };
  return epcisFaults(JSON.parse(JSON.stringify(document)));
}

describe('the events of an entry', () => {
  it.each(STATION_EVENT_TYPES)('%s fits the published schema with all that it may say', (type) => {
    for (const subject of ['BRD/0001', 'devices/D-1']) {
      const events = eventsOfEntry(entry(type, { subject, data: samples[type] }), uris);
      expect(events.length).toBeGreaterThan(0);
      expect(faultsOf(events)).toEqual([]);
      expect(events[0]).toMatchObject({
        'heatbook:entry': { 'heatbook:ledger': subject, 'heatbook:seq': 3, 'heatbook:hash': 'ab'.repeat(32) },
        'heatbook:data': { 'heatbook:operator': 'ann', 'heatbook:note': samples[type].note },
        'heatbook:lots': [{ id: 'https://rework.example/book/lots/flux/class/F%2012%2F3' }, {}, {}, {}],
      });
    }
  });

  it.each(Object.values(BOOK_ENTRY_TYPES))('%s comes to none by itself, and there is a reason', (type) => {
    expect(eventsOfEntry(entry(type, { event: null }), uris)).toEqual([]);
    expect(whyLeftOut(type)).not.toBe(whyLeftOut('something.else.v1'));
  });

  it('have the step, the disposition and the place that the guide gives', () => {
    const of = (type: StationEventType): unknown => {
      const [event] = eventsOfEntry(entry(type, { data: samples[type] }), uris);
      const { action, bizStep, disposition, bizLocation } = event ?? {};
      return { action, bizStep, disposition, stays: bizLocation !== undefined };
    };
    const observed = { action: 'OBSERVE', disposition: undefined, stays: true };
    expect(of('heatbook.unit.received.v1')).toEqual({ ...observed, bizStep: 'receiving' });
    expect(of('heatbook.unit.baked.v1')).toEqual({ ...observed, bizStep: 'other' });
    expect(of('heatbook.site.dressed.v1')).toEqual({ ...observed, bizStep: 'repairing' });
    expect(of('heatbook.exposure.stopped.v1')).toEqual({ ...observed, bizStep: 'storing' });
    expect(of('heatbook.inspection.recorded.v1')).toEqual({
      ...{ ...observed, bizStep: 'inspecting', disposition: 'non_conformant' },
    });
    expect(of('heatbook.unit.shipped.v1')).toEqual({
      ...{ action: 'OBSERVE', bizStep: 'shipping', disposition: 'in_transit', stays: false },
    });
    expect(of('heatbook.unit.scrapped.v1')).toEqual({
      ...{ action: 'DELETE', bizStep: 'destroying', disposition: 'disposed', stays: false },
    });
  });

  it('say of a heat what each thermocouple saw, and of a bake how long it lasted', () => {
    const reports = (type: StationEventType): readonly object[] => {
      const [event] = eventsOfEntry(entry(type, { data: samples[type] }), uris);
      return event?.sensorElementList?.flatMap(({ sensorReport }) => sensorReport) ?? [];
    };
    const deviceID = 'https://rework.example/book/stations/HOT/obj/TC%201%2F%C3%A4';
    expect(reports('heatbook.unit.reflowed.v1')).toMatchObject([
      { type: 'Time', value: 479.75, uom: 'SEC', 'heatbook:measure': 'lasted' },
      { type: 'Temperature', deviceID, maxValue: 236.5, uom: 'CEL', 'heatbook:uncertaintyC': 1.5 },
      { type: 'Time', deviceID, value: 61, uom: 'SEC', 'heatbook:liquidusC': 217 },
      { type: 'Temperature', maxValue: 150, uom: 'CEL', 'heatbook:position': 'die' },
    ]);
    expect(reports('heatbook.device.baked.v1')).toMatchObject([
      { type: 'Temperature', value: 125, uom: 'CEL' },
      { type: 'Time', value: 82_800, uom: 'SEC' },
      { type: 'RelativeHumidity', value: 4, uom: 'P1' },
      { type: 'Time', value: 12, uom: 'MIN', 'heatbook:measure': 'interrupted' },
    ]);
  });

  it('that a removal names no device for are of the board alone, not of all that is on it', () => {
    const type = 'heatbook.device.removed.v1';
    const events = eventsOfEntry(entry(type, { data: samples[type] }), uris);
    expect(events).toMatchObject([{ type: 'ObjectEvent', action: 'OBSERVE', bizStep: 'removing' }]);
  });

  it('tell a device that another had to make way for', () => {
    const type = 'heatbook.device.placed.v1';
    const place = { assembly: 'BRD', serial: '0001', refdes: 'U7' };
    const effects = [
      { kind: 'unmounted', unit: 'BRD/0001', refdes: 'U7', device: 'D-1', to: 'scrapped', at: '' },
      { kind: 'mounted', device: 'D-2', place, alloys: [], how: 'placed', at: '' },
    ];
    const events = eventsOfEntry(entry(type, { data: samples[type], effects }), uris);
    expect(faultsOf(events)).toEqual([]);
    expect(events).toMatchObject([
      { action: 'ADD', childEPCs: [uris.device('D-2')], sensorElementList: [{}], 'heatbook:site': 'U7' },
      { action: 'DELETE', childEPCs: [uris.device('D-1')] },
      { type: 'ObjectEvent', action: 'DELETE', bizStep: 'destroying', epcList: [uris.device('D-1')] },
    ]);
    expect(events[1]?.sensorElementList).toBeUndefined();
  });

  it('leave out a hold that is on no thing', () => {
    const effect = {
      kind: 'hold-raised',
      hold: 'H',
      reason: 'by-hand',
      subject: { kind: 'operator', operator: 'ann' },
    };
    expect(eventsOfEntry(entry(BOOK_ENTRY_TYPES.holdRaised, { effects: [effect] }), uris)).toEqual([]);
  });
});

describe('the time of an event', () => {
  it('keeps the offset that EPCIS can write, and else is in UTC', () => {
    expect(epcisTime('2031-03-03t07:00:00.123456z')).toEqual({
      ...{ eventTime: '2031-03-03T07:00:00.123456Z', eventTimeZoneOffset: '+00:00' },
    });
    expect(epcisTime('2031-03-03T07:00:00-14:00').eventTimeZoneOffset).toBe('-14:00');
    expect(epcisTime('2031-03-03T07:00:00+14:01')).toEqual({
      ...{ eventTime: '2031-03-02T16:59:00Z', eventTimeZoneOffset: '+00:00' },
    });
  });
});

describe('the id of an event', () => {
  it('is a UUID of version 5 over the hash of its entry and its place', () => {
    // Worked out with uuid.uuid5 of Python 3.
    expect(eventId('ab'.repeat(32), 0)).toBe('urn:uuid:13786ac8-4302-50e2-a96e-f5f4bcbd387e');
    expect(eventId('ab'.repeat(32), 1)).not.toBe(eventId('ab'.repeat(32), 0));
  });
});

describe('the names of things', () => {
  it('are below the domain that the log is called after, or else below one that is nobody’s', () => {
    expect(uris.unit('A:1', '7')).toBe('https://rework.example/book/units/A%3A1/obj/7');
    expect(new HouseUris('heatbook/0a1b').station('HOT')).toBe(
      'https://heatbook.example/heatbook/0a1b/stations/loc/HOT',
    );
    expect(new HouseUris(null).workOrder('WO 1')).toBe('https://heatbook.example/heatbook/orders/bt/WO%201');
  });
});
