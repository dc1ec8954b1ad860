import pg from 'pg';
import { EventRef } from '../domain/events/event-order.js';
import { SetupData, SetupKind } from '../domain/setup/setup-data.js';
import { StreamKey } from '../domain/subject/subject.js';
import { HoldRecord } from '../ledger/holds/hold-record.js';
import { ClearanceRecord } from '../ledger/clearances/clearance-record.js';
import { shardOf } from '../ledger/intake/shard-of.js';
import { AnswerBefore, KeyedRequest } from '../ledger/ports/clearance-store.js';
import { LimitRecheck, OpenKind } from '../ledger/limits/limit-recheck.js';
import { traceNamed } from '../ledger/traces/trace-named.js';
import { marksOf } from '../ledger/containment/marks-of.js';
import { parseStored } from '../ledger/intake/parse-stored.js';
import {
  BookChanges,
  BookTransaction,
  LedgerHead,
  PendingEvent,
  Standing,
  StandingAsked,
  StoredEntry,
  SubjectRecord,
  TryAgain,
} from '../ledger/ports/book-store.js';
import { GENESIS_HASH, SealedEntry } from '../ledger/ports/seal.js';
import { StoredRevision } from '../ledger/ports/setup-store.js';
import { isUuid } from './cursor.js';
import { enterRevision } from './enter-revision.js';
import { EntryRow, toEntry } from './entry-row.js';
import { fromHold, HOLD_COLUMNS, HoldRow, toHold } from './hold-row.js';
import { followChains, Head } from './follow-chains.js';
import { answerBefore, clearancesById, clearancesReaching, keepAnswer, writeClearances } from './pg-clearances.js';
import { lockRecheck, openKeysOf, writeRecheck } from './pg-rechecks.js';
import { writeContained } from './pg-containments.js';
import { Queries } from './queries.js';
import { fromRecord, SUBJECT_COLUMNS, SubjectRow, toRecord } from './subject-row.js';

interface PendingRow {
  readonly number: string;
  readonly attempts: number;
  readonly retried: boolean;
  readonly payload: string;
}

/** One fold's transaction on Postgres. Every statement works on sets, so that a fold takes a handful of round trips. */
export class PgBookTransaction implements BookTransaction {
  private readonly knownHeads = new Map<StreamKey, Head>();
  private readonly claimed = new Set<string>();
  private refused: Error | undefined;
  private changes = false;
  private readonly client: Queries;

  constructor(
    client: pg.PoolClient,
    private readonly shards: number,
  ) {
    this.client = {
      query: (text, values) => {
        if (!text.startsWith('SELECT ')) this.changes = true;
        sendTogether(client);
        return client.query(text, values);
      },
    };
  }

  /** Whether anything was asked for but reading and locking. */
  get hasChanged(): boolean {
    return this.changes;
  }

  async claim(shard: number, limit: number): Promise<readonly PendingEvent[]> {
    return this.claimWhere('p.shard = $1', 'LIMIT $2', [shard, limit]);
  }

  async claimDevices(keys: readonly StreamKey[]): Promise<readonly PendingEvent[]> {
    if (keys.length === 0) return [];
    // The prefix is said again so that the planner takes the index of devices alone.
    const condition = `p.subject = ANY($1) AND p.subject ^@ 'devices/' AND p.number <> ALL($2::bigint[])`;
    return this.claimWhere(condition, '', [keys, [...this.claimed]]);
  }

  private async claimWhere(condition: string, limit: string, values: unknown[]): Promise<readonly PendingEvent[]> {
    const { rows } = await this.client.query<PendingRow>(
      `SELECT p.number, p.attempts, p.retried, e.payload
       FROM intake_pending p JOIN intake_event e USING (number)
       WHERE ${condition} AND p.due_at <= now() ORDER BY p.number ${limit} FOR UPDATE OF p SKIP LOCKED`,
      values,
    );
    return this.claimedRows(rows);
  }

  private claimedRows(rows: readonly PendingRow[]): readonly PendingEvent[] {
    for (const { number } of rows) this.claimed.add(number);
    return rows.map(({ payload, ...row }) => ({ ...row, event: parseStored(payload) }));
  }

  async claimSubjects(keys: readonly StreamKey[]): Promise<readonly PendingEvent[]> {
    if (keys.length === 0) return [];
    const boards = keys.filter((key) => !key.startsWith('devices/'));
    const shards = [...new Set(boards.map((key) => shardOf(key, this.shards)))];
    const { rows } = await this.client.query<PendingRow>(
      `SELECT p.number, p.attempts, p.retried, e.payload
       FROM intake_pending p JOIN intake_event e USING (number)
       WHERE ((p.shard = ANY($1) AND p.subject = ANY($2)) OR (p.subject = ANY($3) AND p.subject ^@ 'devices/'))
       ORDER BY p.number FOR UPDATE OF p`,
      [shards, boards, keys],
    );
    return this.claimedRows(rows);
  }

  async peek(keys: readonly StreamKey[]): Promise<readonly SubjectRecord[]> {
    const { rows } = await this.client.query<SubjectRow>(
      `SELECT ${SUBJECT_COLUMNS} FROM subject WHERE key = ANY($1) ORDER BY key`,
      [keys],
    );
    return rows.map(toRecord);
  }

  clearances(ids: readonly string[]): Promise<readonly ClearanceRecord[]> {
    return clearancesById(this.client, ids, 'FOR UPDATE');
  }

  clearancesOn(keys: readonly StreamKey[], openAt?: string): Promise<readonly ClearanceRecord[]> {
    return clearancesReaching(this.client, keys, openAt, 'FOR UPDATE');
  }

  async subjectsReaching(keys: readonly StreamKey[], openAt: string): Promise<readonly StreamKey[]> {
    const found = await clearancesReaching(this.client, keys, openAt);
    return [...new Set(found.map(({ subject }) => subject))];
  }

  answerBefore(request: KeyedRequest): Promise<AnswerBefore> {
    return answerBefore(this.client, request);
  }

  keepAnswer(request: KeyedRequest, answer: unknown): Promise<void> {
    return keepAnswer(this.client, request, answer);
  }

  async load(keys: readonly StreamKey[], ifKnown: readonly StreamKey[] = []): Promise<readonly SubjectRecord[]> {
    const wanted = [...new Set([...keys, ...ifKnown])];
    return wanted.length === 0 ? [] : this.loaded(keys, await this.lock(wanted));
  }

  async standing(asked: StandingAsked): Promise<Standing> {
    const { keys, ifKnown, alsoHeld, openAt } = asked;
    const wanted = [...new Set([...keys, ...ifKnown])];
    // Sent without waiting in between: Postgres works through them in order, so that the locks are had before the rest is
    // read, and its answers come back together.
    const [found, holds, clearances] = await Promise.all([
      this.lock(wanted),
      this.holds([...wanted, ...alsoHeld]),
      this.clearancesOn(wanted, openAt),
    ]);
    return { records: await this.loaded(keys, found), holds, clearances };
  }

  /** Records of rows that were locked, and of those of `keys` that are still to be made. */
  private async loaded(keys: readonly StreamKey[], found: readonly SubjectRow[]): Promise<readonly SubjectRecord[]> {
    const known = new Set(found.map(({ key }) => key));
    const missing = [...new Set(keys)].filter((key) => !known.has(key)).sort();
    const made = missing.length === 0 ? [] : await this.make(missing);
    const all = [...found, ...made].sort((a, b) => (a.key < b.key ? -1 : 1));
    for (const { key, head_seq, head_hash } of all) this.knownHeads.set(key, { seq: head_seq, hash: head_hash });
    return all.map(toRecord);
  }

  /** Units and stations before devices, as every fold does: so that nobody waits in a circle. */
  private async lock(keys: readonly StreamKey[]): Promise<SubjectRow[]> {
    const { rows } = await this.client.query<SubjectRow>(
      `SELECT ${SUBJECT_COLUMNS} FROM subject WHERE key = ANY($1) ORDER BY key ^@ 'devices/', key FOR UPDATE`,
      [keys],
    );
    return rows;
  }

  private async make(keys: readonly StreamKey[]): Promise<SubjectRow[]> {
    await this.client.query(
      `INSERT INTO subject (key, head_hash) SELECT key, $2 FROM unnest($1::text[]) AS key ON CONFLICT (key) DO NOTHING`,
      [keys, GENESIS_HASH],
    );
    return this.lock(keys);
  }

  async heads(keys: readonly StreamKey[]): Promise<readonly LedgerHead[]> {
    const { rows } = await this.client.query<Pick<SubjectRow, 'key' | 'head_seq' | 'head_hash'>>(
      `SELECT key, head_seq, head_hash FROM subject WHERE key = ANY($1) ORDER BY key FOR UPDATE`,
      [keys],
    );
    for (const { key, head_seq, head_hash } of rows) this.knownHeads.set(key, { seq: head_seq, hash: head_hash });
    return rows.map(({ key, head_seq: headSeq, head_hash: headHash }) => ({ key, headSeq, headHash }));
  }

  async entries(keys: readonly StreamKey[]): Promise<readonly SealedEntry[]> {
    const { rows } = await this.client.query<EntryRow>(
      `SELECT hash, bytes FROM ledger_entry WHERE subject = ANY($1) ORDER BY subject, seq`,
      [keys],
    );
    return rows.map(toEntry);
  }

  async holds(keys: readonly StreamKey[]): Promise<readonly HoldRecord[]> {
    const { rows } = await this.client.query<HoldRow>(
      `SELECT ${HOLD_COLUMNS} FROM hold WHERE stream = ANY($1) OR unit_key = ANY($1) ORDER BY raised_at, id FOR UPDATE`,
      [keys],
    );
    return rows.map(toHold);
  }

  async hold(id: string): Promise<HoldRecord | undefined> {
    if (!isUuid(id)) return undefined;
    const { rows } = await this.client.query<HoldRow>(`SELECT ${HOLD_COLUMNS} FROM hold WHERE id = $1 FOR UPDATE`, [
      id,
    ]);
    return rows.map(toHold)[0];
  }

  async dropParked({ source, id }: EventRef): Promise<boolean> {
    const { rowCount } = await this.client.query(
      `DELETE FROM intake_parked p USING intake_event e WHERE e.number = p.number AND e.source = $1 AND e.event_id = $2`,
      [source, id],
    );
    return rowCount === 1;
  }

  async limitRecheck(limit: string, revision: number): Promise<LimitRecheck | undefined> {
    return lockRecheck(this.client, limit, revision);
  }

  async openKeys(kind: OpenKind, after: StreamKey | null, limit: number): Promise<readonly StreamKey[]> {
    return openKeysOf(this.client, kind, after, limit);
  }

  async setupVersion(): Promise<number> {
    const { rows } = await this.client.query<{ version: string }>(
      `SELECT coalesce(max(version), 0) AS version FROM setup_revision`,
    );
    return Number(rows[0]?.version ?? 0);
  }

  async enterSetup<K extends SetupKind>(
    kind: K,
    name: string,
    body: SetupData[K],
    by: string,
  ): Promise<StoredRevision> {
    return enterRevision(this.client, kind, name, body, by);
  }

  async write(changes: BookChanges): Promise<void> {
    try {
      const heads = followChains(this.knownHeads, changes);
      const opened = changes.subjects.filter(({ key }) => !this.knownHeads.has(key));
      const changed = changes.subjects.filter(({ key }) => this.knownHeads.has(key));
      // Alone, so that who is late learns that, and not that an entry is there already.
      if (opened.length > 0) await this.openSubjects(opened, changes.entries);
      // Sent without waiting in between; the first that fails makes all after it fail.
      await Promise.all([
        this.changeSubjects(changed, changes.entries),
        this.writeHeads(changes.heads ?? [], changes.entries),
        this.writeEntries(changes.entries),
        this.writeHolds(changes.holds),
        writeClearances(this.client, changes.clearances ?? []),
        this.settleInbox(changes),
      ]);
      if (changes.contained !== undefined) await writeContained(this.client, changes.contained);
      if (changes.recheck !== undefined) await writeRecheck(this.client, changes.recheck);
      for (const [key, head] of heads) this.knownHeads.set(key, head);
    } catch (error) {
      this.refused = error instanceof Error ? error : new Error(String(error));
      throw error;
    }
  }

  /** @throws what a write threw before, so that a part of it is never committed by work that went on regardless. */
  assertSound(): void {
    if (this.refused !== undefined) throw this.refused;
  }

  /** @throws TryAgain where one is in the book already. */
  private async openSubjects(subjects: readonly SubjectRecord[], entries: readonly StoredEntry[]): Promise<void> {
    const { rowCount } = await this.client.query(
      `INSERT INTO subject (key, kind, assembly, serial, status, head_seq, head_hash, state, changed_at, clock_warns_at,
         clock_ends_at)
       SELECT key, kind, assembly, serial, status, head_seq, head_hash, state, coalesce(changed_at, now()), clock_warns_at,
         clock_ends_at
       FROM json_to_recordset($1::json) AS n(${SUBJECT_FIELDS}) ORDER BY key ON CONFLICT (key) DO NOTHING`,
      [subjectRows(subjects, entries)],
    );
    if (rowCount !== subjects.length) throw new TryAgain('a subject came into the book in between');
  }

  private async changeSubjects(subjects: readonly SubjectRecord[], entries: readonly StoredEntry[]): Promise<void> {
    if (subjects.length === 0) return;
    await this.client.query(
      `UPDATE subject s SET kind = n.kind, assembly = n.assembly, serial = n.serial, status = n.status,
         head_seq = n.head_seq, head_hash = n.head_hash, state = n.state, changed_at = coalesce(n.changed_at, s.changed_at),
         clock_warns_at = CASE WHEN n.clock_told THEN n.clock_warns_at ELSE s.clock_warns_at END,
         clock_ends_at = CASE WHEN n.clock_told THEN n.clock_ends_at ELSE s.clock_ends_at END
       FROM json_to_recordset($1::json) AS n(${SUBJECT_FIELDS}) WHERE s.key = n.key`,
      [subjectRows(subjects, entries)],
    );
  }

  /** Leaves the states where they are: they are most of a row, and these entries did not change them. */
  private async writeHeads(heads: readonly LedgerHead[], entries: readonly StoredEntry[]): Promise<void> {
    if (heads.length === 0) return;
    const changedAt = new Map(entries.map(({ entry }) => [entry.subject, entry.recordedAt]));
    const rows = heads.map((head) => ({ ...head, changedAt: changedAt.get(head.key) ?? null }));
    await this.client.query(
      `UPDATE subject s SET head_seq = n."headSeq", head_hash = n."headHash",
         changed_at = coalesce(n."changedAt", s.changed_at)
       FROM json_to_recordset($1::json) AS n(key text, "headSeq" integer, "headHash" text, "changedAt" timestamptz)
       WHERE s.key = n.key`,
      [rowsOf(rows)],
    );
  }

  private async writeEntries(entries: readonly StoredEntry[]): Promise<void> {
    if (entries.length === 0) return;
    const marked = entries.map(({ entry }) => marksOf(entry));
    const rows = entries.map(({ entry, bytes }, n) => ({
      subject: entry.subject,
      seq: entry.seq,
      hash: entry.hash,
      type: entry.type,
      source: entry.event?.source ?? null,
      event_id: entry.event?.id ?? null,
      bytes,
      recorded_at: entry.recordedAt,
      happened_at: marked[n]?.happenedAt ?? null,
    }));
    const marks = entries.flatMap(({ entry: { subject, seq } }, n) =>
      (marked[n]?.marks ?? []).map((mark) => ({ mark, happened_at: marked[n]?.happenedAt ?? null, subject, seq })),
    );
    // In one statement, so that marks cost no round trip. Sorted, so that their places in the index lie together.
    const written = this.client.query(
      `WITH entry AS (
         INSERT INTO ledger_entry (subject, seq, hash, type, source, event_id, bytes, recorded_at, happened_at)
         SELECT * FROM json_to_recordset($1::json) AS n(subject text, seq integer, hash text, type text, source text,
           event_id text, bytes text, recorded_at timestamptz, happened_at timestamptz)
       )
       INSERT INTO entry_mark (mark, happened_at, subject, seq)
       SELECT mark, coalesce(happened_at, '-infinity'), subject, seq
       FROM json_to_recordset($2::json) AS n(mark text, happened_at timestamptz, subject text, seq integer)
       ORDER BY mark COLLATE "C", happened_at`,
      [rowsOf(rows), rowsOf(marks)],
    );
    const uses = entries.flatMap(({ entry }) => {
      const trace = traceNamed(entry.data);
      return trace === undefined ? [] : [{ trace, subject: entry.subject }];
    });
    await Promise.all([written, uses.length === 0 ? undefined : this.writeTraceUses(uses)]);
  }

  private async writeTraceUses(uses: readonly { readonly trace: string; readonly subject: string }[]): Promise<void> {
    await this.client.query(
      `INSERT INTO trace_use (trace, subject)
       SELECT DISTINCT trace, subject FROM json_to_recordset($1::json) AS n(trace text, subject text)
       ORDER BY trace, subject ON CONFLICT DO NOTHING`,
      [rowsOf(uses)],
    );
  }

  private async writeHolds(holds: readonly HoldRecord[]): Promise<void> {
    if (holds.length === 0) return;
    await this.client.query(
      `INSERT INTO hold (${HOLD_COLUMNS}, stream, unit_key, device)
       SELECT ${HOLD_COLUMNS}, stream, unit_key, device FROM json_to_recordset($1::json) AS n(id uuid, state text,
         reason text, subject json, assembly text, serial text, customer text, station text, operator text,
         raised_at timestamptz, raised_by text, causes jsonb, evidence json, remedy text, touched boolean,
         cause_gone boolean, release json, dispositions json, assignee text, due_at timestamptz, comments json,
         containment uuid, stream text, unit_key text, device text)
       ON CONFLICT (id) DO UPDATE SET state = excluded.state, causes = excluded.causes, evidence = excluded.evidence,
         remedy = excluded.remedy, customer = excluded.customer, station = excluded.station, operator = excluded.operator,
         touched = excluded.touched, cause_gone = excluded.cause_gone, release = excluded.release,
         dispositions = excluded.dispositions, assignee = excluded.assignee, due_at = excluded.due_at,
         comments = excluded.comments`,
      [rowsOf(holds.map(fromHold))],
    );
  }

  private async settleInbox({ done, parked, postponed }: BookChanges): Promise<void> {
    const settled = [...done, ...parked.map(({ number }) => number)];
    const { client } = this;
    await Promise.all([
      settled.length > 0 && client.query(`DELETE FROM intake_pending WHERE number = ANY($1::bigint[])`, [settled]),
      parked.length > 0 &&
        client.query(
          `INSERT INTO intake_parked (number, reason)
           SELECT number, reason FROM json_to_recordset($1::json) AS n(number bigint, reason json)`,
          [rowsOf(parked)],
        ),
      postponed.length > 0 &&
        client.query(
          `UPDATE intake_pending p SET attempts = p.attempts + 1, error = n.error,
             due_at = now() + n."delayMs" * interval '1 millisecond'
           FROM json_to_recordset($1::json) AS n(number bigint, "delayMs" double precision, error text)
           WHERE p.number = n.number`,
          [rowsOf(postponed)],
        ),
    ]);
  }
}

/** What is asked without waiting in between leaves in one write to the socket rather than in one for each statement. */
function sendTogether({ connection: { stream } }: pg.PoolClient): void {
  stream.cork();
  process.nextTick(() => {
    stream.uncork();
  });
}

const SUBJECT_FIELDS = `key text, kind text, assembly text, serial text, status text, head_seq integer, head_hash text,
  state text, changed_at timestamptz, clock_told boolean, clock_warns_at timestamptz, clock_ends_at timestamptz`;

function subjectRows(subjects: readonly SubjectRecord[], entries: readonly StoredEntry[]): string {
  const changedAt = new Map(entries.map(({ entry }) => [entry.subject, entry.recordedAt]));
  return rowsOf(subjects.map((record) => ({ ...fromRecord(record), changed_at: changedAt.get(record.key) ?? null })));
}

/** Rows as the one parameter that json_to_recordset reads. */
export function rowsOf(rows: readonly object[]): string {
  return JSON.stringify(rows);
}
