import { SetupData, SetupKind } from '../../domain/setup/setup-data.js';
import { SetupStore, StoredRevision } from '../ports/setup-store.js';
import { MemoryTables } from './memory-tables.js';
import { roundTrip } from './round-trip.js';

/** Setup revisions in the memory of this process. */
export class MemorySetupStore implements SetupStore {
  readonly #tables: MemoryTables;
  readonly #now: () => string;

  constructor(tables: MemoryTables, now: () => string) {
    this.#tables = tables;
    this.#now = now;
  }

  async revise<K extends SetupKind>(kind: K, name: string, body: SetupData[K], by: string): Promise<StoredRevision> {
    await roundTrip();
    const newest = readRevisions(this.#tables).findLast((known) => known.kind === kind && known.name === name);
    if (newest !== undefined && sortedJson(newest.body) === sortedJson(body)) return newest;
    const revision = (newest?.revision ?? 0) + 1;
    const version = this.#tables.revisions.length + 1;
    const row = JSON.stringify({ kind, name, revision, version, body, by, at: this.#now() });
    this.#tables.revisions.push(row);
    return JSON.parse(row) as StoredRevision;
  }

  async revisionsAfter(version: number): Promise<readonly StoredRevision[]> {
    await roundTrip();
    return readRevisions(this.#tables).filter((revision) => revision.version > version);
  }
}

/** All revisions, in order of version. */
export function readRevisions(tables: MemoryTables): StoredRevision[] {
  return tables.revisions.map((row) => JSON.parse(row) as StoredRevision);
}

/** JSON text that does not depend on the order in which members were written. */
function sortedJson(value: unknown): string {
  return JSON.stringify(value, (_key, member: unknown) =>
    typeof member === 'object' && member !== null && !Array.isArray(member)
      ? Object.fromEntries(Object.entries(member).sort(([a], [b]) => (a < b ? -1 : 1)))
      : member,
  );
}
