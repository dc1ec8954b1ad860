import { SetupData, SetupKind } from '../../domain/setup/setup-data.js';
import { SetupStore, StoredRevision } from '../ports/setup-store.js';
import { MemoryTables } from './memory-tables.js';
import { nextRevision } from './next-revision.js';
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
    while (this.#tables.revising !== null) await this.#tables.revising;
    const known = readRevisions(this.#tables);
    const { revision, isNew } = nextRevision(known, { kind, name, body, by, at: this.#now() });
    if (isNew) this.#tables.revisions.push(JSON.stringify(revision));
    return revision;
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
