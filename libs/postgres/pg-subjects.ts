import { LedgerHead, StoredEntry, SubjectRecord, TryAgain } from '../ledger/ports/book-store.js';
import { columnsOf, longText, longTexts, rowsOf } from './bulk-rows.js';
import { Queries } from './queries.js';
import { fromRecord } from './subject-row.js';

/** Adds subjects that nobody had heard of. @throws TryAgain where one is in the book already. */
export async function openSubjects(
  queries: Queries,
  subjects: readonly SubjectRecord[],
  entries: readonly StoredEntry[],
): Promise<void> {
  const { rowCount } = await queries.query(
    `INSERT INTO subject (key, kind, assembly, serial, status, head_seq, head_hash, state, changed_at, clock_warns_at,
       clock_ends_at)
     SELECT key, kind, assembly, serial, status, head_seq, head_hash, ${STATE}, coalesce(changed_at, now()),
       clock_warns_at, clock_ends_at
     FROM ${GIVEN} ORDER BY key ON CONFLICT (key) DO NOTHING`,
    parametersOf(subjects, entries),
  );
  if (rowCount !== subjects.length) throw new TryAgain('a subject came into the book in between');
}

/** Writes subjects as they are now. They are there: whoever writes them has locked them. */
export async function changeSubjects(
  queries: Queries,
  subjects: readonly SubjectRecord[],
  entries: readonly StoredEntry[],
): Promise<void> {
  if (subjects.length === 0) return;
  await queries.query(
    `UPDATE subject s SET kind = n.kind, assembly = n.assembly, serial = n.serial, status = n.status,
       head_seq = n.head_seq, head_hash = n.head_hash, state = ${STATE}, changed_at = coalesce(n.changed_at, s.changed_at),
       clock_warns_at = CASE WHEN n.clock_told THEN n.clock_warns_at ELSE s.clock_warns_at END,
       clock_ends_at = CASE WHEN n.clock_told THEN n.clock_ends_at ELSE s.clock_ends_at END
     FROM ${GIVEN} WHERE s.key = n.key`,
    parametersOf(subjects, entries),
  );
}

/** Leaves the states where they are: they are most of a row, and these entries did not change them. */
export async function writeHeads(
  queries: Queries,
  heads: readonly LedgerHead[],
  entries: readonly StoredEntry[],
): Promise<void> {
  if (heads.length === 0) return;
  const changedAt = timesOf(entries);
  const rows = heads.map((head) => ({ ...head, changedAt: changedAt.get(head.key) ?? null }));
  await queries.query(
    `UPDATE subject s SET head_seq = n."headSeq", head_hash = n."headHash",
       changed_at = coalesce(n."changedAt", s.changed_at)
     FROM json_to_recordset($1::json) AS n(key text, "headSeq" integer, "headHash" text, "changedAt" timestamptz)
     WHERE s.key = n.key`,
    [rowsOf(rows)],
  );
}

const GIVEN = `unnest($1::text[], $2::text[], $3::text[], $4::text[], $5::text[], $6::integer[], $7::text[],
  $8::boolean[], $9::timestamptz[], $10::timestamptz[], $11::timestamptz[], $12::integer[], $13::integer[])
  AS n(key, kind, assembly, serial, status, head_seq, head_hash, clock_told, clock_warns_at, clock_ends_at, changed_at,
    start, length)`;
const STATE = longText('$14');
const COLUMNS = [
  'key',
  'kind',
  'assembly',
  'serial',
  'status',
  'head_seq',
  'head_hash',
  'clock_told',
  'clock_warns_at',
  'clock_ends_at',
] as const;

function parametersOf(subjects: readonly SubjectRecord[], entries: readonly StoredEntry[]): unknown[] {
  const rows = subjects.map(fromRecord);
  const changedAt = timesOf(entries);
  const { bytes, starts, lengths } = longTexts(rows.map(({ state }) => state));
  const times = subjects.map(({ key }) => changedAt.get(key) ?? null);
  return [...columnsOf(rows, COLUMNS), times, starts, lengths, bytes];
}

/** When the last entry of each ledger was written. */
function timesOf(entries: readonly StoredEntry[]): ReadonlyMap<string, string> {
  return new Map(entries.map(({ entry }) => [entry.subject, entry.recordedAt]));
}
