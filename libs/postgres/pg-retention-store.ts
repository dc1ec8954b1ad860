import pg from 'pg';
import { unitKey } from '../domain/subject/subject.js';
import { Page, PageRequest } from '../ledger/ports/read-store.js';
import { DueQuery, RetentionStore } from '../ledger/ports/retention-store.js';
import { DueUnit } from '../ledger/retention/due-unit.js';
import { LegalAct, LegalHold, LegalScope } from '../ledger/retention/legal-hold.js';
import { fromCursor, fromTimedCursor, isUuid, toCursor } from './cursor.js';

const COLUMNS = 'id, customer, assembly, serial, reference, set_act, lift_act';

/** Legal holds, and what is due, in Postgres. */
export class PgRetentionStore implements RetentionStore {
  constructor(private readonly pool: pg.Pool) {}

  async addLegalHold({ id, scope, reference, note, signed, signature }: LegalHold): Promise<void> {
    const { customer, assembly, serial } = columnsOf(scope);
    await this.pool.query(
      `INSERT INTO legal_hold (id, customer, assembly, serial, reference, set_by, set_at, set_act)
       VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
      [
        ...[id, customer, assembly, serial, reference, signature.by, signature.at],
        JSON.stringify({ note, signed, signature }),
      ],
    );
  }

  async legalHold(id: string): Promise<LegalHold | undefined> {
    if (!isUuid(id)) return undefined;
    const { rows } = await this.pool.query<HoldRow>(`SELECT ${COLUMNS} FROM legal_hold WHERE id = $1`, [id]);
    return rows.map(toLegalHold)[0];
  }

  async liftLegalHold(id: string, lift: LegalAct): Promise<LegalHold | undefined> {
    if (!isUuid(id)) return undefined;
    const { by, at } = lift.signature;
    const { rows } = await this.pool.query<HoldRow>(
      `UPDATE legal_hold SET lifted_by = $2, lifted_at = $3, lift_act = $4 WHERE id = $1 AND lifted_at IS NULL
       RETURNING ${COLUMNS}`,
      [id, by, at, JSON.stringify(lift)],
    );
    return rows.map(toLegalHold)[0] ?? this.legalHold(id);
  }

  async legalHolds(state: 'in-force' | 'lifted' | undefined, { limit, cursor }: PageRequest): Promise<Page<LegalHold>> {
    const [at, id] = fromTimedCursor(cursor) ?? [];
    const { rows } = await this.pool.query<HoldRow>(
      `SELECT ${COLUMNS} FROM legal_hold
       WHERE ($1::boolean IS NULL OR (lifted_at IS NULL) = $1) AND ($2::timestamptz IS NULL OR (set_at, id) < ($2, $3::uuid))
       ORDER BY set_at DESC, id DESC LIMIT $4`,
      [state === undefined ? null : state === 'in-force', at ?? null, id ?? null, limit + 1],
    );
    const items = rows.slice(0, limit).map(toLegalHold);
    const last = items.at(-1);
    const next = last !== undefined && rows.length > limit ? toCursor([last.signature.at, last.id]) : null;
    return { items, next };
  }

  async due({ terms, before }: DueQuery, { limit, cursor }: PageRequest): Promise<Page<DueUnit>> {
    const [after] = fromCursor(cursor, 1) ?? [];
    const { rows } = await this.pool.query<DueRow>(DUE, [
      terms.map(({ customer }) => customer),
      terms.map(({ keepYears }) => keepYears),
      before,
      after ?? null,
      limit + 1,
    ]);
    const items = rows.slice(0, limit).map(toDueUnit);
    const last = items.at(-1);
    return {
      items,
      next: last !== undefined && rows.length > limit ? toCursor([unitKey(last.assembly, last.serial)]) : null,
    };
  }
}

/** Years are counted in UTC, whatever the time zone of the session. */
const DUE = `SELECT s.assembly, s.serial, s.status AS state, t.customer, t.keep_years, l.left_at, k.kept_until
  FROM unnest($1::text[], $2::integer[]) t (customer, keep_years)
  JOIN assembly_customer a ON a.customer = t.customer
  JOIN subject s ON s.assembly = a.assembly AND s.kind = 'unit' AND s.status IN ('shipped', 'scrapped')
  CROSS JOIN LATERAL (
    SELECT max(e.happened_at) AS left_at FROM ledger_entry e
    WHERE e.subject = s.key AND e.type IN ('heatbook.unit.shipped.v1', 'heatbook.unit.scrapped.v1')
      AND NOT EXISTS (SELECT FROM ledger_entry x WHERE x.source = e.source AND x.event_id = e.event_id
        AND x.type = 'heatbook.entry.annulled.v1')) l
  CROSS JOIN LATERAL (
    SELECT (l.left_at AT TIME ZONE 'UTC' + make_interval(years => t.keep_years)) AT TIME ZONE 'UTC' AS kept_until) k
  WHERE k.kept_until <= $3::timestamptz AND ($4::text IS NULL OR s.key > $4)
    AND NOT EXISTS (SELECT FROM legal_hold h WHERE h.lifted_at IS NULL AND (h.customer = t.customer
      OR (h.assembly = s.assembly AND (h.serial IS NULL OR h.serial = s.serial))))
  ORDER BY s.key LIMIT $5`;

interface DueRow {
  readonly assembly: string;
  readonly serial: string;
  readonly state: DueUnit['state'];
  readonly customer: string;
  readonly keep_years: number;
  readonly left_at: Date;
  readonly kept_until: Date;
}

function toDueUnit({ assembly, serial, state, customer, ...row }: DueRow): DueUnit {
  const [leftAt, keptUntil] = [row.left_at.toISOString(), row.kept_until.toISOString()];
  return { assembly, serial, state, customer, keepYears: row.keep_years, leftAt, keptUntil };
}

interface HoldRow {
  readonly id: string;
  readonly customer: string | null;
  readonly assembly: string | null;
  readonly serial: string | null;
  readonly reference: string;
  readonly set_act: LegalAct;
  readonly lift_act: LegalAct | null;
}

function toLegalHold({ id, reference, set_act: set, lift_act: lift, ...scope }: HoldRow): LegalHold {
  return { id, scope: scopeOf(scope), reference, ...set, lift };
}

function columnsOf(scope: LegalScope): Pick<HoldRow, 'customer' | 'assembly' | 'serial'> {
  if ('customer' in scope) return { customer: scope.customer, assembly: null, serial: null };
  if ('assembly' in scope) return { customer: null, assembly: scope.assembly, serial: null };
  return { customer: null, ...scope.unit };
}

function scopeOf({ customer, assembly, serial }: Pick<HoldRow, 'customer' | 'assembly' | 'serial'>): LegalScope {
  if (customer !== null) return { customer };
  if (assembly === null) throw new Error('a legal hold in the table is over nothing');
  return serial === null ? { assembly } : { unit: { assembly, serial } };
}
