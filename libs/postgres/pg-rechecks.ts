import { StreamKey } from '../domain/subject/subject.js';
import { LimitRecheck, OpenKind } from '../ledger/limits/limit-recheck.js';
import { HOUSE } from '../ledger/setup/house-setup.js';
import { Queries } from './queries.js';

/** As the index of what is in the house has it: `OPEN_STATUSES`. */
export const IS_OPEN = `status IN ('expected', 'in-house', 'loose')`;

interface RecheckRow {
  readonly name: string;
  readonly revision: number;
  readonly effective_at: Date;
  readonly state: LimitRecheck['state'];
  readonly why: string | null;
  readonly version: string | null;
  readonly phase: OpenKind;
  readonly after: string | null;
  readonly counts: Pick<LimitRecheck, 'subjects' | 'holdsRaised' | 'holdsWithdrawn' | 'holdsMarked' | 'warnings'>;
  readonly started_at: Date | null;
  readonly finished_at: Date | null;
}

const COLUMNS = 'name, revision, effective_at, state, why, version, phase, after, counts, started_at, finished_at';

function toRecheck(row: RecheckRow): LimitRecheck {
  const { name, revision, state, why, version, phase, after, counts } = row;
  return {
    ...{ limit: name, revision, state, why, phase, after, ...counts },
    effectiveAt: row.effective_at.toISOString(),
    version: version === null ? null : Number(version),
    startedAt: row.started_at?.toISOString() ?? null,
    finishedAt: row.finished_at?.toISOString() ?? null,
  };
}

/** Notes revisions of limits that were entered since the last time, and answers what is due by then. */
export async function dueRechecks(queries: Queries, now: string): Promise<LimitRecheck[]> {
  await queries.query(
    `INSERT INTO limit_recheck (name, revision, effective_at)
     SELECT r.name, r.revision, greatest((r.body ->> 'effectiveFrom')::timestamptz, r.at)
     FROM setup_revision r
     WHERE r.kind = 'limit' AND r.by <> $1
       AND NOT EXISTS (SELECT FROM limit_recheck known WHERE known.name = r.name AND known.revision = r.revision)
     ON CONFLICT DO NOTHING`,
    [HOUSE],
  );
  const { rows } = await queries.query<RecheckRow>(
    `SELECT ${COLUMNS} FROM limit_recheck
     WHERE state IN ('waiting', 'running') AND effective_at <= $1::timestamptz ORDER BY effective_at, revision, name`,
    [now],
  );
  return rows.map(toRecheck);
}

export async function rechecksOf(queries: Queries, limit: string | null): Promise<LimitRecheck[]> {
  const { rows } = await queries.query<RecheckRow>(
    `SELECT ${COLUMNS} FROM limit_recheck WHERE $1::text IS NULL OR name = $1 ORDER BY name, revision DESC`,
    [limit],
  );
  return rows.map(toRecheck);
}

/** One, locked. */
export async function lockRecheck(
  queries: Queries,
  limit: string,
  revision: number,
): Promise<LimitRecheck | undefined> {
  const { rows } = await queries.query<RecheckRow>(
    `SELECT ${COLUMNS} FROM limit_recheck WHERE name = $1 AND revision = $2 FOR UPDATE`,
    [limit, revision],
  );
  return rows.map(toRecheck)[0];
}

export async function writeRecheck(queries: Queries, recheck: LimitRecheck): Promise<void> {
  const { limit, revision, state, why, version, phase, after, startedAt, finishedAt } = recheck;
  const { subjects, holdsRaised, holdsWithdrawn, holdsMarked, warnings } = recheck;
  await queries.query(
    `UPDATE limit_recheck SET state = $3, why = $4, version = $5, phase = $6, after = $7, counts = $8,
       started_at = $9, finished_at = $10
     WHERE name = $1 AND revision = $2`,
    [
      ...[limit, revision, state, why, version, phase, after],
      JSON.stringify({ subjects, holdsRaised, holdsWithdrawn, holdsMarked, warnings }),
      ...[startedAt, finishedAt],
    ],
  );
}

/** Keys of what is in the house, in order. */
export async function openKeysOf(
  queries: Queries,
  kind: OpenKind,
  after: StreamKey | null,
  limit: number,
): Promise<StreamKey[]> {
  const { rows } = await queries.query<{ key: StreamKey }>(
    `SELECT key FROM subject WHERE kind = $1 AND ${IS_OPEN} AND ($2::text IS NULL OR key > $2) ORDER BY key LIMIT $3`,
    [kind, after, limit],
  );
  return rows.map(({ key }) => key);
}
