import pg from 'pg';
import { AccessFilter, AccessRecord, AccessStore } from '../ledger/ports/access-store.js';
import { Page, PageRequest } from '../ledger/ports/read-store.js';
import { fromCursor, toCursor } from './cursor.js';
import { rowsOf } from './bulk-rows.js';

interface AccessRow extends Omit<AccessRecord, 'at'> {
  readonly number: string;
  readonly at: Date;
}

/** The access record in Postgres. */
export class PgAccessStore implements AccessStore {
  constructor(private readonly pool: pg.Pool) {}

  async append(records: readonly AccessRecord[]): Promise<void> {
    if (records.length === 0) return;
    await this.pool.query(
      `INSERT INTO access_record (at, kind, caller, roles, route, subject, outcome)
       SELECT at, kind, caller, roles, route, subject, outcome FROM json_to_recordset($1::json)
         AS n(at timestamptz, kind text, caller text, roles text[], route text, subject text, outcome text)`,
      [rowsOf(records)],
    );
  }

  async list({ from, to, kind, caller }: AccessFilter, { limit, cursor }: PageRequest): Promise<Page<AccessRecord>> {
    const [at = null, number = null] = readCursor(cursor);
    const { rows } = await this.pool.query<AccessRow>(
      `SELECT number, at, kind, caller, roles, route, subject, outcome FROM access_record
       WHERE ($1::timestamptz IS NULL OR at >= $1) AND ($2::timestamptz IS NULL OR at < $2)
         AND ($3::text IS NULL OR kind = $3) AND ($4::text IS NULL OR caller = $4)
         AND ($5::timestamptz IS NULL OR (at, number) < ($5, $6::bigint))
       ORDER BY at DESC, number DESC LIMIT $7`,
      [from ?? null, to ?? null, kind ?? null, caller ?? null, at, number, limit + 1],
    );
    const shown = rows.slice(0, limit);
    const last = shown.at(-1);
    const next = rows.length > limit && last !== undefined ? toCursor([last.at.toISOString(), last.number]) : null;
    return { items: shown.map(toRecord), next };
  }
}

/** @throws RangeError where it is no cursor of this list. */
function readCursor(cursor: string | null): readonly string[] {
  const parts = fromCursor(cursor, 2) ?? [];
  const [at = '', number = ''] = parts;
  if (parts.length > 0 && (Number.isNaN(Date.parse(at)) || !/^\d{1,18}$/.test(number))) {
    throw new RangeError('The cursor is not one that this list gave.');
  }
  return parts;
}

function toRecord({ at, kind, caller, roles, route, subject, outcome }: AccessRow): AccessRecord {
  return { at: at.toISOString(), kind, caller, roles, route, subject, outcome };
}
