import { compareText, orderTime, refKey } from '../../domain/events/event-order.js';
import { streamOfHold } from '../../domain/holds/hold-subject.js';
import { StreamKey, unitKey } from '../../domain/subject/subject.js';
import { HoldRecord } from '../holds/hold-record.js';
import { LedgerHead, StoredEntry, SubjectRecord, SubjectState } from '../ports/book-store.js';
import { GENESIS_HASH } from '../ports/seal.js';
import { EntryRow, LedgerRow } from './memory-tables.js';

export function entryRow({ entry, bytes }: StoredEntry): EntryRow {
  const event = entry.event === null ? null : refKey(entry.event);
  return { subject: entry.subject, seq: entry.seq, event, bytes, hash: entry.hash };
}

export function readSubject(row: LedgerRow): SubjectRecord {
  return { ...headOf(row), state: JSON.parse(row.state) as SubjectState | null };
}

export function headOf({ key, entries }: LedgerRow): LedgerHead {
  return { key, headSeq: entries.length, headHash: entries.at(-1)?.hash ?? GENESIS_HASH };
}

/** Oldest first. */
export function readHolds(rows: Iterable<string>): HoldRecord[] {
  return [...rows].map((row) => JSON.parse(row) as HoldRecord).sort(compareHolds);
}

function compareHolds(a: HoldRecord, b: HoldRecord): number {
  return compareText(orderTime(a.raisedAt), orderTime(b.raisedAt)) || compareText(a.id, b.id);
}

/** The ledger that a hold's subject belongs to: a site's is its unit's. */
export function ledgerOfHold({ subject }: HoldRecord): StreamKey {
  return streamOfHold(subject);
}

/** Whether a hold came to light on this unit; one on the unit itself or a site of it always did. */
export function cameToLightOn(hold: HoldRecord, unit: StreamKey): boolean {
  return hold.unit !== null && unitKey(hold.unit.assembly, hold.unit.serial) === unit;
}
