import { parseStream, StreamKey, unitKey } from '../../domain/subject/subject.js';
import { CustomerReads, THE_HOUSE } from '../ports/customer-reads.js';
import { ReadStore } from '../ports/read-store.js';
import { MemoryReadStore } from './memory-read-store.js';
import { readRevisions } from './memory-setup-store.js';
import { LedgerRow, MemoryTables } from './memory-tables.js';
import { readHolds, readSubject } from './stored-rows.js';

/** The read side for customers over what is committed in memory: each works on tables that hold nothing else. */
export class MemoryCustomerReads implements CustomerReads {
  readonly #tables: MemoryTables;

  constructor(tables: MemoryTables) {
    this.#tables = tables;
  }

  /** Shows what is committed at the time of the call. */
  of(customer: string): ReadStore {
    return new MemoryReadStore(tablesOf(this.#tables, customer));
  }
}

function tablesOf(all: MemoryTables, customer: string): MemoryTables {
  const own = new MemoryTables();
  const assemblies = assembliesOf(all, customer);
  const isOwn = (key: StreamKey): boolean => {
    const stream = parseStream(key);
    return stream?.kind === 'unit' && assemblies.has(stream.assembly);
  };
  for (const [key, row] of all.ledgers) {
    if (isOwn(key)) own.ledgers.set(key, row);
    else if (isAboard(row, isOwn)) own.ledgers.set(key, { ...row, entries: [] });
  }
  for (const hold of readHolds(all.holds.values())) {
    if (hold.unit !== null && assemblies.has(hold.unit.assembly)) own.holds.set(hold.id, JSON.stringify(hold));
  }
  for (const [number, row] of all.inbox) if (isOwn(row.subject)) own.inbox.set(number, row);
  for (const [ref, number] of all.numbers) if (own.inbox.has(number)) own.numbers.set(ref, number);
  for (const revision of readRevisions(all)) {
    if (revision.kind === 'assembly' && assemblies.has(revision.name)) own.revisions.push(JSON.stringify(revision));
  }
  return own;
}

/** By the newest revision of each. */
function assembliesOf(tables: MemoryTables, customer: string): ReadonlySet<string> {
  if (customer === '' || customer === THE_HOUSE) return new Set();
  const customers = new Map<string, string>();
  for (const revision of readRevisions(tables)) {
    if (revision.kind === 'assembly') customers.set(revision.name, revision.body.customer);
  }
  return new Set([...customers].flatMap(([assembly, whose]) => (whose === customer ? [assembly] : [])));
}

function isAboard(row: LedgerRow, isOwn: (key: StreamKey) => boolean): boolean {
  const { state } = readSubject(row);
  if (state?.kind !== 'device' || state.state.place === null) return false;
  return isOwn(unitKey(state.state.place.assembly, state.state.place.serial));
}
