import { StationContact, StationStanding, StationStore } from '../ports/station-store.js';
import { MemoryTables } from './memory-tables.js';
import { roundTrip } from './round-trip.js';
import { readHolds } from './stored-rows.js';

/** What is known of stations besides their setup, in the memory of this process. */
export class MemoryStationStore implements StationStore {
  readonly #tables: MemoryTables;

  constructor(tables: MemoryTables) {
    this.#tables = tables;
  }

  async heard(contacts: readonly StationContact[]): Promise<void> {
    await roundTrip();
    for (const { station, heardAt, eventTime } of contacts) {
      const known = this.#tables.contacts.get(station);
      this.#tables.contacts.set(station, {
        heardAtMs: Math.max(known?.heardAtMs ?? -Infinity, Date.parse(heardAt)),
        eventAtMs: Math.max(known?.eventAtMs ?? -Infinity, Date.parse(eventTime)),
      });
    }
  }

  async standings(stations: readonly string[]): Promise<readonly StationStanding[]> {
    await roundTrip();
    const open = readHolds(this.#tables.holds.values()).filter(({ state }) => state === 'open');
    return stations.map((station) => {
      const contact = this.#tables.contacts.get(station);
      const rows = [...this.#tables.inbox.values()].filter(({ source }) => source === `/stations/${station}`);
      const pending = rows.filter(({ state }) => state === 'pending');
      return {
        station,
        lastHeardAt: contact === undefined ? null : new Date(contact.heardAtMs).toISOString(),
        lastEventTime: contact === undefined ? null : new Date(contact.eventAtMs).toISOString(),
        pending: pending.length,
        oldestPendingAt: pending.map(({ receivedAt }) => receivedAt).sort()[0] ?? null,
        parked: rows.filter(({ state }) => state === 'parked').length,
        openHolds: open.filter((hold) => hold.station === station).length,
      };
    });
  }
}
