import { StreamKey } from '../domain/subject/subject.js';
import { parseStored } from '../ledger/intake/parse-stored.js';
import { shardOf } from '../ledger/intake/shard-of.js';
import { BookChanges, PendingEvent } from '../ledger/ports/book-store.js';
import { rowsOf } from './bulk-rows.js';
import { Queries } from './queries.js';

interface PendingRow {
  readonly number: string;
  readonly attempts: number;
  readonly retried: boolean;
  readonly payload: string;
}

/** Due events of these shards that nobody else has claimed, oldest first. */
export async function claimShards(
  queries: Queries,
  shards: readonly number[],
  limit: number,
): Promise<readonly PendingEvent[]> {
  // The oldest of each shard are found by its index first: a long backlog is not sorted to take its beginning.
  const oldest = `p.number = ANY (ARRAY(
    SELECT o FROM unnest($1::smallint[]) AS s(shard), oldest_due(s.shard, $2) AS o ORDER BY o LIMIT $2))`;
  return claimWhere(queries, oldest, [shards, limit]);
}

/** The same of these devices, less those with these numbers. */
export async function claimDevices(
  queries: Queries,
  keys: readonly StreamKey[],
  without: readonly string[],
): Promise<readonly PendingEvent[]> {
  // The prefix is said again so that the planner takes the index of devices alone.
  const condition = `p.subject = ANY($1) AND p.subject ^@ 'devices/' AND p.number <> ALL($2::bigint[])`;
  return claimWhere(queries, condition, [keys, without]);
}

/** Those of these devices that have due events with other numbers than these. */
export async function unclaimedDevices(
  queries: Queries,
  keys: readonly StreamKey[],
  claimed: readonly string[],
): Promise<readonly StreamKey[]> {
  const { rows } = await queries.query<{ subject: string }>(
    `SELECT DISTINCT subject FROM intake_pending
     WHERE subject = ANY($1) AND subject ^@ 'devices/' AND due_at <= now() AND number <> ALL($2::bigint[])`,
    [keys, claimed],
  );
  return rows.map(({ subject }) => subject);
}

async function claimWhere(queries: Queries, condition: string, values: unknown[]): Promise<readonly PendingEvent[]> {
  const { rows } = await queries.query<PendingRow>(
    `SELECT p.number, p.attempts, p.retried, e.payload
     FROM intake_pending p JOIN intake_event e USING (number)
     WHERE ${condition} AND p.due_at <= now() ORDER BY p.number FOR UPDATE OF p SKIP LOCKED`,
    values,
  );
  return rows.map(toPending);
}

/** All pending events of these subjects, after waiting for whoever has claimed them. */
export async function claimSubjects(
  queries: Queries,
  keys: readonly StreamKey[],
  shards: number,
): Promise<readonly PendingEvent[]> {
  const boards = keys.filter((key) => !key.startsWith('devices/'));
  const { rows } = await queries.query<PendingRow>(
    `SELECT p.number, p.attempts, p.retried, e.payload
     FROM intake_pending p JOIN intake_event e USING (number)
     WHERE ((p.shard = ANY($1) AND p.subject = ANY($2)) OR (p.subject = ANY($3) AND p.subject ^@ 'devices/'))
     ORDER BY p.number FOR UPDATE OF p`,
    [[...new Set(boards.map((key) => shardOf(key, shards)))], boards, keys],
  );
  return rows.map(toPending);
}

function toPending({ number, attempts, retried, payload }: PendingRow): PendingEvent {
  return { number, attempts, retried, event: parseStored(payload) };
}

/** Takes what was folded or parked out of the pending events, and puts off what failed. */
export async function settleInbox(queries: Queries, { done, parked, postponed }: BookChanges): Promise<void> {
  const settled = [...done, ...parked.map(({ number }) => number)];
  await Promise.all([
    settled.length > 0 && queries.query(`DELETE FROM intake_pending WHERE number = ANY($1::bigint[])`, [settled]),
    parked.length > 0 &&
      queries.query(
        `INSERT INTO intake_parked (number, reason)
         SELECT number, reason FROM json_to_recordset($1::json) AS n(number bigint, reason json)`,
        [rowsOf(parked)],
      ),
    postponed.length > 0 &&
      queries.query(
        `UPDATE intake_pending p SET attempts = p.attempts + 1, error = n.error,
           due_at = now() + n."delayMs" * interval '1 millisecond'
         FROM json_to_recordset($1::json) AS n(number bigint, "delayMs" double precision, error text)
         WHERE p.number = n.number`,
        [rowsOf(postponed)],
      ),
  ]);
}
