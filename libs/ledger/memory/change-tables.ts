import { ChangeNote } from '../ports/change-store.js';

/** What one commit changed. */
export interface ChangeRow extends Omit<ChangeNote, 'place'> {
  /** From 1, in order of commits. */
  readonly number: number;
  readonly atMs: number;
}

/** Notes of changes as a memory book keeps them. */
export class ChangeTables {
  rows: readonly ChangeRow[] = [];
  /** Number of the newest that was ever told. */
  told = 0;

  /** As the triggers of the database do, in the commit of what changed. */
  tell(changed: Pick<ChangeRow, 'entries' | 'holds' | 'clearances' | 'atMs'>): void {
    if (changed.entries.length + changed.holds.length + changed.clearances.length === 0) return;
    this.told += 1;
    this.rows = [...this.rows, { ...changed, number: this.told }];
  }
}
