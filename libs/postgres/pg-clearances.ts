import { StreamKey } from '../domain/subject/subject.js';
import { ClearanceRecord, ClearanceState, reachOf } from '../ledger/clearances/clearance-record.js';
import { AnswerBefore, ClearanceFilter, KeyedRequest } from '../ledger/ports/clearance-store.js';
import { Page, PageRequest } from '../ledger/ports/read-store.js';
import { fromTimedCursor, isUuid, toCursor } from './cursor.js';
import { CLEARANCE_COLUMNS, ClearanceRow, fromClearance, toClearance } from './pg-clearance-row.js';
import { Queries } from './queries.js';

/** Those with these ids; `FOR UPDATE` locks them. */
export async function clearancesById(
  queries: Queries,
  ids: readonly string[],
  lock: '' | 'FOR UPDATE' = '',
): Promise<readonly ClearanceRecord[]> {
  const known = ids.filter(isUuid);
  if (known.length === 0) return [];
  const { rows } = await queries.query<ClearanceRow>(
    `SELECT ${CLEARANCE_COLUMNS} FROM clearance WHERE id = ANY($1) ORDER BY id ${lock}`,
    [known],
  );
  return rows.map(toClearance);
}

/** Those for these subjects, or reserving something of them; with `openAt`, those that are open at that time. */
export async function clearancesReaching(
  queries: Queries,
  keys: readonly StreamKey[],
  openAt: string | undefined,
  lock: '' | 'FOR UPDATE' = '',
): Promise<readonly ClearanceRecord[]> {
  if (keys.length === 0) return [];
  // As an array, so that they are looked up one by one: joined, the planner goes through all that there are while it has not
  // yet counted them.
  const { rows } = await queries.query<ClearanceRow>(
    `SELECT ${CLEARANCE_COLUMNS} FROM clearance
     WHERE id = ANY(ARRAY(SELECT clearance FROM clearance_reach WHERE key = ANY($1)))
       AND ($2::timestamptz IS NULL OR (NOT used AND returned_at IS NULL AND expires_at > $2))
     ORDER BY id ${lock}`,
    [keys, openAt ?? null],
  );
  return rows.map(toClearance);
}

export async function writeClearances(queries: Queries, clearances: readonly ClearanceRecord[]): Promise<void> {
  if (clearances.length === 0) return;
  const columns = CLEARANCE_COLUMNS;
  const reach = clearances.flatMap((clearance) => reachOf(clearance).map((key) => ({ key, clearance: clearance.id })));
  await queries.query(
    `WITH written AS (
       INSERT INTO clearance (${columns}, used)
       SELECT ${columns}, used FROM json_to_recordset($1::json) AS n(id uuid, subject text, station text, operator text,
         granted_to text, granted_at timestamptz, expires_at timestamptz, returned_at timestamptz, returned_by text,
         lapsed_at timestamptz, steps json, spends json, warnings json, rules bigint, used boolean)
       ON CONFLICT (id) DO UPDATE SET returned_at = excluded.returned_at, returned_by = excluded.returned_by,
         lapsed_at = excluded.lapsed_at, steps = excluded.steps, used = excluded.used
     )
     INSERT INTO clearance_reach (key, clearance)
     SELECT key, clearance FROM json_to_recordset($2::json) AS n(key text, clearance uuid)
     ORDER BY key, clearance ON CONFLICT DO NOTHING`,
    [JSON.stringify(clearances.map(fromClearance)), JSON.stringify(reach)],
  );
}

const IN_STATE: Readonly<Record<ClearanceState, string>> = {
  used: 'used',
  returned: 'NOT used AND returned_at IS NOT NULL',
  granted: 'NOT used AND returned_at IS NULL AND expires_at > $5',
  lapsed: 'NOT used AND returned_at IS NULL AND expires_at <= $5',
};

/** Newest first. */
export async function listClearances(
  queries: Queries,
  { assembly, serial, device, station, state }: ClearanceFilter,
  now: string,
  { limit, cursor }: PageRequest,
): Promise<Page<ClearanceRecord>> {
  const [at, id] = fromTimedCursor(cursor) ?? [];
  const { rows } = await queries.query<ClearanceRow>(
    `SELECT ${CLEARANCE_COLUMNS} FROM clearance
     WHERE ($1::text IS NULL OR split_part(subject, '/', 1) = $1) AND ($2::text IS NULL OR split_part(subject, '/', 2) = $2)
       AND ($3::text IS NULL OR subject = $3) AND ($4::text IS NULL OR station = $4)
       AND $5::timestamptz IS NOT NULL AND (${state === undefined ? 'true' : IN_STATE[state]})
       AND ($6::timestamptz IS NULL OR (granted_at, id) < ($6, $7::uuid))
     ORDER BY granted_at DESC, id DESC LIMIT $8`,
    [assembly, serial, subjectOf({ assembly, serial, device }), station, now, at, id, limit + 1].map(
      (value) => value ?? null,
    ),
  );
  const items = rows.slice(0, limit).map(toClearance);
  const last = items.at(-1);
  return { items, next: rows.length > limit && last !== undefined ? toCursor([last.grantedAt, last.id]) : null };
}

/** The one subject that a filter names, so that its index is taken. */
function subjectOf(filter: Record<'assembly' | 'serial' | 'device', string | undefined>): string | undefined {
  const { assembly, serial, device } = filter;
  if (device !== undefined) return `devices/${device}`;
  return assembly !== undefined && serial !== undefined ? `${assembly}/${serial}` : undefined;
}

export async function clearancesOver(
  queries: Queries,
  now: string,
  limit: number,
): Promise<readonly { id: string; subject: string }[]> {
  const { rows } = await queries.query<{ id: string; subject: string }>(
    `SELECT id, subject FROM clearance WHERE NOT used AND returned_at IS NULL AND lapsed_at IS NULL AND expires_at <= $1
     ORDER BY expires_at, id LIMIT $2`,
    [now, limit],
  );
  return rows;
}

export async function answerBefore(queries: Queries, { caller, key, bodyHash }: KeyedRequest): Promise<AnswerBefore> {
  // Waits for a transaction that has just put the same row in.
  const { rowCount } = await queries.query(
    `INSERT INTO request_answer (caller, key, body_hash) VALUES ($1, $2, $3) ON CONFLICT (caller, key) DO NOTHING`,
    [caller, key, bodyHash],
  );
  if (rowCount === 1) return undefined;
  const { rows } = await queries.query<{ body_hash: string; answer: unknown }>(
    `SELECT body_hash, answer FROM request_answer WHERE caller = $1 AND key = $2`,
    [caller, key],
  );
  const [known] = rows;
  if (known === undefined) return undefined;
  return known.body_hash === bodyHash ? { answer: known.answer } : 'other-body';
}

export async function keepAnswer(queries: Queries, { caller, key }: KeyedRequest, answer: unknown): Promise<void> {
  await queries.query(`UPDATE request_answer SET answer = $3 WHERE caller = $1 AND key = $2`, [
    caller,
    key,
    JSON.stringify(answer),
  ]);
}

export async function forgetAnswers(queries: Queries, before: string): Promise<void> {
  await queries.query(`DELETE FROM request_answer WHERE at < $1`, [before]);
}
