import { setImmediate as turn } from 'node:timers/promises';
import pg from 'pg';
import { EventRef } from '../domain/events/event-order.js';
import { SetupData, SetupKind } from '../domain/setup/setup-data.js';
import { StreamKey } from '../domain/subject/subject.js';
import { HoldRecord } from '../ledger/holds/hold-record.js';
import { ClearanceRecord } from '../ledger/clearances/clearance-record.js';
import { AnswerBefore, KeyedRequest } from '../ledger/ports/clearance-store.js';
import { LimitRecheck, OpenKind } from '../ledger/limits/limit-recheck.js';
import {
  BookChanges,
  BookTransaction,
  LedgerHead,
  PendingEvent,
  PendingOrStanding,
  Standing,
  StandingAsked,
  SubjectRecord,
} from '../ledger/ports/book-store.js';
import { EntryBytes, entryOf, GENESIS_HASH, SealedEntry } from '../ledger/ports/seal.js';
import { StoredRevision } from '../ledger/ports/setup-store.js';
import { RequestRef } from '../ledger/requests/request-ref.js';
import { withArrays } from './bulk-rows.js';
import { isUuid } from './cursor.js';
import { enterRevision } from './enter-revision.js';
import { HOLD_COLUMNS, HoldRow, toHold } from './hold-row.js';
import { followChains, Head } from './follow-chains.js';
import { answerBefore, clearancesById, clearancesReaching, keepAnswer, writeClearances } from './pg-clearances.js';
import { lockRecheck, openKeysOf, writeRecheck } from './pg-rechecks.js';
import { requestsOf } from './pg-requests.js';
import { writeContained } from './pg-containments.js';
import { claimDevices, claimShards, claimSubjects, settleInbox, unclaimedDevices } from './pg-pending.js';
import { writeEntries } from './pg-entries.js';
import { changeSubjects, openSubjects, writeHeads } from './pg-subjects.js';
import { Queries } from './queries.js';
import { writeHolds } from './write-holds.js';
import { SUBJECT_COLUMNS, SubjectRow, toRecord } from './subject-row.js';

/** Statements that change no row. */
const READING = /^(SELECT|SAVEPOINT|ROLLBACK TO) /;

interface StandingAnswers extends Omit<Standing, 'records'> {
  readonly found: readonly SubjectRow[];
}

/** One fold's transaction on Postgres. Every statement works on sets, so that a fold takes a handful of round trips. */
export class PgBookTransaction implements BookTransaction {
  private readonly knownHeads = new Map<StreamKey, Head>();
  private readonly claimed = new Set<string>();
  private refused: Error | undefined;
  private changes = false;
  private hasBegun = false;
  private readonly leaving: Promise<unknown>[] = [];
  private readonly client: Queries;

  /** @param begun what BEGIN answers; until then what is asked leaves with it, if it only reads */
  constructor(
    client: pg.PoolClient,
    private readonly shards: number,
    begun: Promise<unknown>,
  ) {
    begun.then(
      () => (this.hasBegun = true),
      () => undefined,
    );
    this.client = {
      query: async (text, values) => {
        const isWrite = !READING.test(text);
        if (isWrite) this.changes = true;
        if (isWrite && !this.hasBegun) await begun;
        sendTogether(client);
        return client.query(text, values && withArrays(values));
      },
    };
  }

  /** Whether anything was asked for but reading and locking. */
  get hasChanged(): boolean {
    return this.changes;
  }

  async claim(shards: readonly number[], limit: number): Promise<readonly PendingEvent[]> {
    return this.noted(await claimShards(this.client, shards, limit));
  }

  async claimDevices(keys: readonly StreamKey[]): Promise<readonly PendingEvent[]> {
    return keys.length === 0 ? [] : this.noted(await claimDevices(this.client, keys, [...this.claimed]));
  }

  async unclaimedDevices(keys: readonly StreamKey[]): Promise<readonly StreamKey[]> {
    return keys.length === 0 ? [] : unclaimedDevices(this.client, keys, [...this.claimed]);
  }

  async claimSubjects(keys: readonly StreamKey[]): Promise<readonly PendingEvent[]> {
    return keys.length === 0 ? [] : this.noted(await claimSubjects(this.client, keys, this.shards));
  }

  private noted(pending: readonly PendingEvent[]): readonly PendingEvent[] {
    for (const { number } of pending) this.claimed.add(number);
    return pending;
  }

  requestsOf(numbers: readonly string[], limit: number): Promise<readonly RequestRef[]> {
    return requestsOf(this.client, numbers, limit);
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
    return this.stood(asked, await this.askStanding(asked));
  }

  async pendingOrStanding(claimed: readonly StreamKey[], asked: StandingAsked): Promise<PendingOrStanding> {
    const [pending, , answers] = await Promise.all([
      this.claimSubjects(claimed),
      this.client.query('SAVEPOINT claimed'),
      this.askStanding(asked),
    ]);
    if (pending.length === 0) return { standing: await this.stood(asked, answers) };
    // What was locked after it is let go of.
    await this.client.query('ROLLBACK TO SAVEPOINT claimed');
    return { pending };
  }

  /**
   * Sent without waiting in between: Postgres works through them in order, so that the locks are had before the rest is
   * read, and its answers come back together.
   */
  private async askStanding({ keys, ifKnown, alsoHeld, openAt }: StandingAsked): Promise<StandingAnswers> {
    const wanted = [...new Set([...keys, ...ifKnown])];
    const [found, holds, clearances] = await Promise.all([
      this.lock(wanted),
      this.holds([...wanted, ...alsoHeld]),
      this.clearancesOn(wanted, openAt),
    ]);
    return { found, holds, clearances };
  }

  private async stood({ keys }: StandingAsked, { found, holds, clearances }: StandingAnswers): Promise<Standing> {
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
    const { rows } = await this.client.query<EntryBytes>(
      `SELECT hash, bytes FROM ledger_entry WHERE subject = ANY($1) ORDER BY subject, seq`,
      [keys],
    );
    return rows.map(entryOf);
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
      if (opened.length > 0) await openSubjects(this.client, opened, changes.entries);
      // Sent without waiting in between; the first that fails makes all after it fail.
      await Promise.all([
        changeSubjects(this.client, changed, changes.entries),
        writeHeads(this.client, changes.heads ?? [], changes.entries),
        writeEntries(this.client, changes.entries),
        writeHolds(this.client, changes.holds),
        writeClearances(this.client, changes.clearances ?? []),
        settleInbox(this.client, changes),
      ]);
      if (changes.contained !== undefined) await writeContained(this.client, changes.contained);
      if (changes.recheck !== undefined) await writeRecheck(this.client, changes.recheck);
      for (const [key, head] of heads) this.knownHeads.set(key, head);
    } catch (error) {
      this.refused = error instanceof Error ? error : new Error(String(error));
      throw error;
    }
  }

  leave(asked: Promise<unknown>): void {
    this.leaving.push(asked);
    asked.catch((error: unknown) => {
      this.refused ??= error instanceof Error ? error : new Error(String(error));
    });
  }

  /** Everything that was left has been sent by then, or has failed before it could be. */
  async allSent(): Promise<void> {
    if (this.leaving.length > 0) await turn();
  }

  /** @throws what the first of those that were left and failed threw */
  async left(): Promise<void> {
    await Promise.all(this.leaving);
  }

  /** @throws what a write threw before, so that a part of it is never committed by work that went on regardless. */
  assertSound(): void {
    if (this.refused !== undefined) throw this.refused;
  }
}

/** What is asked without waiting in between leaves in one write to the socket rather than in one for each statement. */
function sendTogether({ connection: { stream } }: pg.PoolClient): void {
  stream.cork();
  process.nextTick(() => {
    stream.uncork();
  });
}
