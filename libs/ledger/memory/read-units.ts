import { unitKey } from '../../domain/subject/subject.js';
import { UnitRow } from '../ports/read-store.js';
import { readRevisions } from './memory-setup-store.js';
import { LedgerRow, MemoryTables } from './memory-tables.js';
import { cameToLightOn, readHolds, readSubject } from './stored-rows.js';
import { entryOf } from '../ports/seal.js';

/** Every unit that the book knows something of. Its customer is the one that its assembly names now. */
export function readUnits(tables: MemoryTables): UnitRow[] {
  const customers = new Map<string, string>();
  for (const revision of readRevisions(tables)) {
    if (revision.kind === 'assembly') customers.set(revision.name, revision.body.customer);
  }
  const open = readHolds(tables.holds.values()).filter(({ state }) => state === 'open');
  return [...tables.ledgers.values()].flatMap((row) => {
    const { state: subject } = readSubject(row);
    if (subject?.kind !== 'unit') return [];
    const { assembly, serial, status } = subject.state;
    return [
      {
        assembly,
        serial,
        customer: customers.get(assembly) ?? '',
        state: status,
        openHolds: open.filter((hold) => cameToLightOn(hold, unitKey(assembly, serial))).length,
        changedAt: changedAt(row),
      },
    ];
  });
}

function changedAt({ key, entries }: LedgerRow): string {
  const newest = entries.at(-1);
  if (newest === undefined) throw new Error(`${key} has a state but no entry.`);
  return entryOf(newest).recordedAt;
}
