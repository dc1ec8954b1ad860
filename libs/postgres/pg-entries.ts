import { EntryMarks, marksOf } from '../ledger/containment/marks-of.js';
import { StreamKey } from '../domain/subject/subject.js';
import { StoredEntry } from '../ledger/ports/book-store.js';
import { traceNamed } from '../ledger/traces/trace-named.js';
import { longText, longTexts, rowsOf } from './bulk-rows.js';
import { Queries } from './queries.js';

/** Appends entries to their ledgers, with the marks that they are found by. */
export async function writeEntries(queries: Queries, entries: readonly StoredEntry[]): Promise<void> {
  if (entries.length === 0) return;
  const marked = entries.map(({ entry }) => marksOf(entry));
  const columns = [
    entries.map(({ entry }) => entry.subject),
    entries.map(({ entry }) => entry.seq),
    entries.map(({ entry }) => entry.hash),
    entries.map(({ entry }) => entry.type),
    entries.map(({ entry }) => entry.event?.source),
    entries.map(({ entry }) => entry.event?.id),
    entries.map(({ entry }) => entry.recordedAt),
    marked.map(({ happenedAt }) => happenedAt),
  ];
  const { bytes, starts, lengths } = longTexts(entries.map((stored) => stored.bytes));
  // In one statement, so that marks cost no round trip. Sorted, so that their places in the index lie together.
  const written = queries.query(
    `WITH entry AS (
       INSERT INTO ledger_entry (subject, seq, hash, type, source, event_id, recorded_at, happened_at, bytes)
       SELECT subject, seq, hash, type, source, event_id, recorded_at, happened_at, ${longText('$11')}
       FROM unnest($1::text[], $2::integer[], $3::text[], $4::text[], $5::text[], $6::text[], $7::timestamptz[],
         $8::timestamptz[], $9::integer[], $10::integer[])
         AS n(subject, seq, hash, type, source, event_id, recorded_at, happened_at, start, length)
     )
     INSERT INTO mark_group (mark, hour, subjects, seqs)
     SELECT mark, hour, subjects, seqs
     FROM json_to_recordset($12::json) AS n(mark text, hour timestamptz, subjects text[], seqs integer[])
     ORDER BY mark COLLATE "C", hour`,
    [...columns, starts, lengths, bytes, rowsOf(groupMarks(entries, marked))],
  );
  const uses: TraceUse[] = [];
  for (const { entry } of entries) {
    const trace = traceNamed(entry.data);
    if (trace !== undefined) uses.push({ trace, subject: entry.subject });
  }
  await Promise.all([written, uses.length === 0 ? undefined : writeTraceUses(queries, uses)]);
}

interface MarkGroup {
  readonly mark: string;
  /** Its beginning, or `-infinity` for what is no fact of any time. */
  readonly hour: string;
  readonly subjects: StreamKey[];
  readonly seqs: number[];
}

/** Entries with the same mark of the same hour share a row: most of what stations say at one time has the same marks. */
function groupMarks(entries: readonly StoredEntry[], marked: readonly EntryMarks[]): MarkGroup[] {
  const groups = new Map<string, MarkGroup>();
  for (const [n, { entry }] of entries.entries()) {
    const { happenedAt = null, marks = [] } = marked[n] ?? {};
    const hour = happenedAt === null ? '-infinity' : `${happenedAt.slice(0, 13)}:00:00Z`;
    for (const mark of marks) {
      const key = `${hour} ${mark}`;
      let group = groups.get(key);
      if (group === undefined) groups.set(key, (group = { mark, hour, subjects: [], seqs: [] }));
      group.subjects.push(entry.subject);
      group.seqs.push(entry.seq);
    }
  }
  return [...groups.values()];
}

interface TraceUse {
  readonly trace: string;
  readonly subject: StreamKey;
}

async function writeTraceUses(queries: Queries, uses: readonly TraceUse[]): Promise<void> {
  await queries.query(
    `INSERT INTO trace_use (trace, subject)
     SELECT DISTINCT trace, subject FROM json_to_recordset($1::json) AS n(trace text, subject text)
     ORDER BY trace, subject ON CONFLICT DO NOTHING`,
    [rowsOf(uses)],
  );
}
