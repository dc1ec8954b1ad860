import { Page, PageRequest, UnitFilter, UnitRow } from '../ledger/ports/read-store.js';
import { fromCursor } from './cursor.js';
import { pageOf } from './page-of.js';
import { Queries } from './queries.js';

/** Whether the connection sees every customer's rows or those of one. */
export type Sight = 'house' | 'customer';

/**
 * Units by key. Where only one customer's can come out, the units of each of the customer's assemblies are read as a range
 * of keys: to go through all by key until a page is full takes the longer the fewer the customer has.
 * @throws RangeError where the cursor is not one that this list gave
 */
export async function listUnits(
  queries: Queries,
  sight: Sight,
  filter: UnitFilter,
  { limit, cursor }: PageRequest,
): Promise<Page<UnitRow>> {
  const [after] = fromCursor(cursor, 1) ?? [];
  const { assembly, serial, state, customer } = filter;
  const source = sight === 'customer' || customer !== undefined ? OF_A_CUSTOMER : OF_ALL;
  const { rows } = await queries.query<UnitQueryRow>(
    `SELECT s.*, (SELECT count(*)::integer FROM hold WHERE unit_key = s.key AND state = 'open') AS open_holds
     FROM (${source}) s ORDER BY s.key`,
    [after, assembly, serial, state, customer, limit + 1].map((value) => value ?? null),
  );
  return pageOf(rows, limit, ({ key }) => [key], toUnitRow);
}

const COLUMNS = 'key, assembly, serial, status, changed_at';
const FITS = `kind = 'unit' AND ($3::text IS NULL OR serial = $3) AND ($4::text IS NULL OR status = $4)`;

/** The zero is what comes after the slash: no key of another assembly lies between. */
const OF_ALL = `SELECT s.*, a.customer
  FROM (SELECT ${COLUMNS} FROM subject
    WHERE ${FITS} AND ($1::text IS NULL OR key > $1) AND ($2::text IS NULL OR (key > $2 || '/' AND key < $2 || '0'))
      AND $5::text IS NULL
    ORDER BY key LIMIT $6) s
  LEFT JOIN assembly_customer a ON a.assembly = s.assembly`;

const OF_A_CUSTOMER = `SELECT s.*, a.customer
  FROM assembly_customer a, LATERAL (SELECT ${COLUMNS} FROM subject
    WHERE ${FITS} AND key > greatest(a.assembly || '/', $1::text) AND key < a.assembly || '0'
    ORDER BY key LIMIT $6) s
  WHERE ($2::text IS NULL OR a.assembly = $2) AND ($5::text IS NULL OR a.customer = $5)
  ORDER BY s.key LIMIT $6`;

interface UnitQueryRow {
  readonly key: string;
  readonly assembly: string;
  readonly serial: string;
  readonly status: string;
  readonly changed_at: Date;
  readonly customer: string | null;
  readonly open_holds: number;
}

function toUnitRow({ assembly, serial, customer, status, open_holds, changed_at }: UnitQueryRow): UnitRow {
  return {
    assembly,
    serial,
    customer: customer ?? '',
    state: status,
    openHolds: open_holds,
    changedAt: changed_at.toISOString(),
  };
}
