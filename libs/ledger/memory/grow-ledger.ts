import { LedgerHead, StoredEntry, SubjectRecord } from '../ports/book-store.js';
import { LedgerRow } from './memory-tables.js';
import { entryRow, headOf } from './stored-rows.js';

/**
 * A ledger with one more entry.
 * @throws Error where the entry is not the next one, or names another predecessor than the last.
 */
export function withEntry(row: LedgerRow, stored: StoredEntry): LedgerRow {
  const { subject, seq, prevHash } = stored.entry;
  const { headSeq, headHash } = headOf(row);
  if (seq !== headSeq + 1) throw new Error(`Entry ${seq} of ${subject} does not append: the next is ${headSeq + 1}.`);
  if (prevHash !== headHash) throw new Error(`Entry ${seq} of ${subject} does not follow the head of its ledger.`);
  return { ...row, entries: [...row.entries, entryRow(stored)] };
}

/**
 * A ledger with the state that its entries add up to.
 * @throws Error where the record names another head than the ledger has.
 */
export function withState(row: LedgerRow, record: SubjectRecord): LedgerRow {
  requireHead(row, record);
  const { state, clock } = record;
  return { ...row, state: JSON.stringify(state), ...(clock !== undefined && { clock: JSON.stringify(clock) }) };
}

/** @throws Error where another head is named than the ledger has. */
export function requireHead(row: LedgerRow, { key, headSeq, headHash }: LedgerHead): void {
  const head = headOf(row);
  if (head.headSeq !== headSeq || head.headHash !== headHash)
    throw new Error(`The ledger of ${key} ends at ${head.headSeq}, not at the head ${headSeq} that is written.`);
}
