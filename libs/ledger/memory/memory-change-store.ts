import { ChangeNote, ChangePlace, ChangeStore } from '../ports/change-store.js';
import { MemoryTables } from './memory-tables.js';
import { roundTrip } from './round-trip.js';

/** Notes of what was committed, in memory: commits follow each other, so that each is a place. */
export class MemoryChangeStore implements ChangeStore {
  constructor(private readonly tables: MemoryTables) {}

  async now(): Promise<ChangePlace> {
    await roundTrip();
    return placeOf(this.tables.changes.told);
  }

  async after({ transaction }: ChangePlace, limit: number): Promise<readonly ChangeNote[]> {
    await roundTrip();
    let changes = 0;
    return this.tables.changes.rows
      .filter(({ number }) => number > Number(transaction))
      .filter((row, n) => {
        changes += row.entries.length + row.holds.length + row.clearances.length;
        return n === 0 || changes <= limit;
      })
      .map(({ number, entries, holds, clearances }) => ({ place: placeOf(number), entries, holds, clearances }));
  }

  async forget(before: string): Promise<void> {
    await roundTrip();
    const { changes } = this.tables;
    changes.rows = changes.rows.filter(({ atMs }) => atMs >= Date.parse(before));
  }
}

function placeOf(number: number): ChangePlace {
  return { transaction: String(number), number: '0' };
}
