import { ContainmentDone, ContainmentRecord, ended } from '../ledger/containment/containment-record.js';
import { Queries } from './queries.js';

/** A containment as its table keeps it; `json` columns arrive parsed. */
interface ContainmentRow {
  readonly id: string;
  readonly cause: ContainmentRecord['cause'];
  readonly suspect_from: string;
  readonly suspect_to: string;
  readonly hold_cause: boolean;
  readonly cause_holds: ContainmentRecord['causeHolds'];
  readonly state: ContainmentRecord['state'];
  readonly rounds: ContainmentRecord['rounds'];
  readonly found: number | null;
  readonly held: number;
  readonly attempts: number;
  readonly failure: string | null;
  readonly requested_at: Date;
  readonly seen_at: Date;
  readonly finished_at: Date | null;
}

export const CONTAINMENT_COLUMNS = `id, cause, suspect_from, suspect_to, hold_cause, cause_holds, state, rounds, found, held,
  attempts, failure, requested_at, seen_at, finished_at`;

/** Asks for containments, in columns of CONTAINMENT_COLUMNS. */
export async function queryContainments(
  queries: Queries,
  text: string,
  values: unknown[],
): Promise<readonly ContainmentRecord[]> {
  const { rows } = await queries.query<ContainmentRow>(text, values);
  return rows.map(toContainment);
}

function toContainment(row: ContainmentRow): ContainmentRecord {
  const { id, cause, state, rounds, found, held, attempts, failure } = row;
  return {
    ...{ id, cause, from: row.suspect_from, to: row.suspect_to },
    ...{ holdCause: row.hold_cause, causeHolds: row.cause_holds },
    ...{ state, rounds, found, held, attempts, failure },
    requestedAt: row.requested_at.toISOString(),
    seenAt: row.seen_at.toISOString(),
    finishedAt: row.finished_at?.toISOString() ?? null,
  };
}

/**
 * Writes the end of a round and what it holds, within the transaction that raises the holds.
 * @throws RoundEnded where that round is not under way
 */
export async function writeContained(client: Queries, done: ContainmentDone): Promise<void> {
  const [known] = await queryContainments(
    client,
    `SELECT ${CONTAINMENT_COLUMNS} FROM containment WHERE id = $1 FOR UPDATE`,
    [done.id],
  );
  const { state, rounds, causeHolds, found, held, seenAt, finishedAt } = ended(known, done);
  await client.query(
    `UPDATE containment SET state = $2, rounds = $3, cause_holds = $4, found = $5, held = $6, failure = NULL,
       seen_at = $7, finished_at = $8 WHERE id = $1`,
    [done.id, state, JSON.stringify(rounds), JSON.stringify(causeHolds), found, held, seenAt, finishedAt],
  );
  const rows = done.contained.map((one) => ({ key: one.key, hold: one.hold, touches: one.touches, body: one }));
  await client.query(
    `INSERT INTO containment_subject (containment, key, hold, touches, body)
     SELECT $1, key, hold, touches, body
     FROM json_to_recordset($2::json) AS n(key text, hold uuid, touches integer, body json)
     ON CONFLICT (containment, key) DO UPDATE SET hold = excluded.hold, touches = excluded.touches, body = excluded.body`,
    [done.id, JSON.stringify(rows)],
  );
}
