import { compareText } from '../../domain/events/event-order.js';
import { NamedAssembly, NamedDevice, NamedUnit, SerialWish } from '../ports/name-reads.js';
import { readRevisions } from './memory-setup-store.js';
import { MemoryTables } from './memory-tables.js';
import { readUnits } from './read-units.js';
import { readSubject } from './stored-rows.js';

export function unitsNamed(tables: MemoryTables, { assembly, serial }: SerialWish, limit: number): NamedUnit[] {
  return readUnits(tables)
    .filter((unit) => unit.serial.startsWith(serial) && (assembly === undefined || unit.assembly === assembly))
    .sort((a, b) => compareText(a.serial, b.serial) || compareText(a.assembly, b.assembly))
    .slice(0, limit)
    .map(({ assembly: whose, serial: name, customer, state }) => ({ assembly: whose, serial: name, customer, state }));
}

export function devicesNamed(tables: MemoryTables, beginning: string, limit: number): NamedDevice[] {
  const devices = [...tables.ledgers.values()].flatMap((row): NamedDevice[] => {
    const { state } = readSubject(row);
    if (state?.kind !== 'device' || !state.state.device.startsWith(beginning)) return [];
    const { device, status, place } = state.state;
    return [{ device, state: status, unit: place && { assembly: place.assembly, serial: place.serial } }];
  });
  return devices.sort((a, b) => compareText(a.device, b.device)).slice(0, limit);
}

export function assembliesNamed(tables: MemoryTables, beginning: string, limit: number): NamedAssembly[] {
  const customers = new Map<string, string>();
  for (const revision of readRevisions(tables)) {
    if (revision.kind === 'assembly') customers.set(revision.name, revision.body.customer);
  }
  return [...customers]
    .map(([assembly, customer]) => ({ assembly, customer }))
    .filter(({ assembly }) => assembly.startsWith(beginning))
    .sort((a, b) => compareText(a.assembly, b.assembly))
    .slice(0, limit);
}
