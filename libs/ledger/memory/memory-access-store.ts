import { orderTime } from '../../domain/events/event-order.js';
import { AccessFilter, AccessRecord, AccessStore } from '../ports/access-store.js';
import { Page, PageRequest } from '../ports/read-store.js';
import { keysetPage } from './keyset-page.js';
import { MemoryTables } from './memory-tables.js';
import { readRevisions } from './memory-setup-store.js';
import { roundTrip } from './round-trip.js';

/** The access record in the memory of this process. */
export class MemoryAccessStore implements AccessStore {
  readonly #tables: MemoryTables;

  constructor(tables: MemoryTables) {
    this.#tables = tables;
  }

  async append(records: readonly AccessRecord[]): Promise<void> {
    await roundTrip();
    this.#tables.access.push(...records.map((record) => JSON.stringify(record)));
  }

  async list({ from, to, kind, caller }: AccessFilter, page: PageRequest): Promise<Page<AccessRecord>> {
    await roundTrip();
    const kept = this.#tables.access.map((row) => JSON.parse(row) as AccessRecord);
    const rows = [...setupChanges(this.#tables), ...kept].map((record, number) => ({ record, number }));
    const matching = rows.filter(
      ({ record }) =>
        (from === undefined || orderTime(record.at) >= orderTime(from)) &&
        (to === undefined || orderTime(record.at) < orderTime(to)) &&
        (kind === undefined || record.kind === kind) &&
        (caller === undefined || record.caller === caller),
    );
    const { items, next } = keysetPage(matching, ({ record, number }) => newestFirst(record.at, number), page);
    return { items: items.map(({ record }) => record), next };
  }
}

function setupChanges(tables: MemoryTables): AccessRecord[] {
  return readRevisions(tables).map(({ kind, name, revision, by, at }) => {
    const outcome = `revision ${String(revision)}`;
    return { at, kind: 'setup-changed', caller: by, roles: [], route: null, subject: `${kind} ${name}`, outcome };
  });
}

/** Texts that sort the other way round than time and number do. */
function newestFirst(at: string, number: number): readonly string[] {
  const left = (most: number, figure: number): string => String(most - figure).padStart(16, '0');
  return [left(1e15, Date.parse(at)), left(1e15, number)];
}
