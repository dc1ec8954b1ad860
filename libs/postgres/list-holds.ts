import { Graveness, reasonsOf } from '../domain/holds/graveness.js';
import { HoldRecord } from '../ledger/holds/hold-record.js';
import { HoldFilter, HoldOrder, Page, PageRequest } from '../ledger/ports/read-store.js';
import { fromCursor, isUuid, toCursor } from './cursor.js';
import { holdConditions } from './hold-queries.js';
import { HOLD_COLUMNS, HoldRow, toHold } from './hold-row.js';
import { Queries } from './queries.js';

const quoted = (graveness: Graveness): string =>
  reasonsOf(graveness)
    .map((reason) => `'${reason}'`)
    .join(', ');

const GRAVENESS = `CASE WHEN reason IN (${quoted(1)}) THEN 1 WHEN reason IN (${quoted(3)}) THEN 3 ELSE 2 END`;

/** What a page is sorted by, with the type of each part of its cursor. */
const PLACES: Readonly<Record<HoldOrder, readonly (readonly [string, string])[]>> = {
  age: [
    ['raised_at', 'timestamptz'],
    ['id', 'uuid'],
  ],
  graveness: [
    [GRAVENESS, 'integer'],
    ['raised_at', 'timestamptz'],
    ['id', 'uuid'],
  ],
};

/** @throws RangeError where the cursor is not one that this list gave in this order */
export async function listHolds(
  queries: Queries,
  filter: HoldFilter,
  { limit, cursor }: PageRequest,
  order: HoldOrder,
): Promise<Page<HoldRecord>> {
  const place = PLACES[order];
  const after = placeIn(cursor, order);
  const { where, values } = holdConditions(filter);
  const columns = place.map(([column]) => column).join(', ');
  const bounds = place.map(([, type], n) => `$${String(values.length + n + 1)}::${type}`).join(', ');
  const { rows } = await queries.query<HoldRow & { graveness: number }>(
    `SELECT ${HOLD_COLUMNS}, ${GRAVENESS} AS graveness FROM hold
     WHERE ${where}${after === null ? '' : ` AND (${columns}) > (${bounds})`}
     ORDER BY ${columns} LIMIT ${String(limit + 1)}`,
    [...values, ...(after ?? [])],
  );
  const last = rows[limit - 1];
  const next = rows.length > limit && last !== undefined ? cursorOf(last, order) : null;
  return { items: rows.slice(0, limit).map(toHold), next };
}

function cursorOf({ graveness, raised_at, id }: HoldRow & { graveness: number }, order: HoldOrder): string {
  return toCursor([...(order === 'age' ? [] : [String(graveness)]), raised_at.toISOString(), id]);
}

/** The place in a cursor, checked before Postgres would stumble over it. */
function placeIn(cursor: string | null, order: HoldOrder): readonly string[] | null {
  const parts = fromCursor(cursor, PLACES[order].length);
  if (parts === null) return null;
  const [id = '', at = '', graveness = '1'] = [...parts].reverse();
  if (!Number.isNaN(Date.parse(at)) && isUuid(id) && /^[123]$/.test(graveness)) return parts;
  throw new RangeError('The cursor is not one that this list gave.');
}
