import { readFileSync } from 'node:fs';
import { STATION_EVENT_TYPES } from '../../domain/events/station-event.js';
import { BOOK_ENTRY_TYPES } from '../../ledger/fold/book-effect.js';
import { epcisSamples as samples, sampleEntry as entry } from '../spec-support/epcis-samples.js';
import { eventsOfEntry } from './events-of-entry.js';
import { HouseUris } from './house-uris.js';

const uris = new HouseUris('rework.example/book');

describe('docs/guide/epcis.md', () => {
  const guide = readFileSync(new URL('../../../docs/guide/epcis.md', import.meta.url), 'utf8');
  const rows = guide.split('\n').flatMap((line) => {
    const cells = line.split('|').map((cell) => cell.trim().replaceAll('`', ''));
    return cells[1]?.startsWith('heatbook.') === true ? [cells.slice(1, -1)] : [];
  });

  it('says of each entry of a unit or device what it comes to', () => {
    const place = { assembly: 'BRD', serial: '0001', refdes: 'U7' };
    const effects: Readonly<Record<string, readonly object[]>> = {
      'heatbook.device.removed.v1': [{ kind: 'unmounted', unit: 'BRD/0001', refdes: 'U7', device: 'D-1', to: 'loose' }],
      'heatbook.device.placed.v1': [{ kind: 'mounted', device: 'D-2', place, alloys: [], how: 'placed' }],
      ...held(),
    };
    const told = [
      ...STATION_EVENT_TYPES.filter((type) => type !== 'heatbook.bath.analysed.v1'),
      ...Object.keys(held()),
    ];
    const pass = { ...samples['heatbook.inspection.recorded.v1'], result: 'pass' };
    const data: Readonly<Record<string, unknown>> = { ...samples, 'heatbook.inspection.recorded.v1': pass };
    const facts = told.map((type) => {
      const given = { data: data[type] ?? {}, effects: effects[type] ?? [] };
      const [event] = eventsOfEntry(entry(type, given), uris);
      return [type, event?.type, event?.action, event?.bizStep, event?.disposition ?? ''];
    });
    const stated = rows.filter((cells) => cells.length === 5).map((cells) => cells.map((cell) => cell.split(' (')[0]));
    expect(stated.sort()).toEqual(facts.sort());
  });

  it('lists the entries that come to none', () => {
    const without = Object.values(BOOK_ENTRY_TYPES).filter((type) => !(type in held()));
    const stated = rows.filter((cells) => cells.length === 2).map(([type]) => type);
    expect(stated.sort()).toEqual(without.sort());
  });

  /** What the acts on a hold do, by the type of their entries. */
  function held(): Record<string, readonly object[]> {
    const hold = { hold: 'H', reason: 'by-hand', subject: { kind: 'unit', assembly: 'BRD', serial: '0001' } };
    return {
      [BOOK_ENTRY_TYPES.holdRaised]: [{ kind: 'hold-raised', ...hold }],
      [BOOK_ENTRY_TYPES.holdDisposed]: [{ kind: 'hold-disposed', ...hold, decision: 'rework' }],
      [BOOK_ENTRY_TYPES.holdReleased]: [{ kind: 'hold-released', ...hold }],
    };
  }
});
