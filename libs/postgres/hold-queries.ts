import pg from 'pg';
import { HoldFilter, HoldSummary } from '../ledger/ports/read-store.js';

/** A filter as a WHERE condition with its values; columns are those of `hold`. */
export function holdConditions(filter: HoldFilter): { where: string; values: string[] } {
  const tests: readonly (readonly [keyof HoldFilter, string])[] = [
    ['state', 'state = ?'],
    ['reason', 'reason = ?'],
    ['customer', 'customer = ?'],
    ['assembly', 'assembly = ?'],
    ['serial', 'serial = ?'],
    ['device', 'device = ?'],
    ['station', 'station = ?'],
    ['operator', 'operator = ?'],
    ['raisedFrom', 'raised_at >= ?::timestamptz'],
    ['raisedTo', 'raised_at < ?::timestamptz'],
  ];
  const values: string[] = [];
  const conditions = ['true'];
  for (const [field, test] of tests) {
    const value = filter[field];
    if (value === undefined) continue;
    values.push(value);
    conditions.push(test.replace('?', `$${String(values.length)}`));
  }
  return { where: conditions.join(' AND '), values };
}

interface SummaryRow {
  readonly reason: string | null;
  readonly customer: string | null;
  readonly station: string | null;
  readonly age: 'underOneDay' | 'oneToSevenDays' | 'overSevenDays' | null;
  readonly counted_by: number;
  readonly holds: number;
  readonly oldest: Date | null;
}

/** What GROUPING() answers where only that column is not grouped away. */
const BY = { reason: 0b0111, customer: 0b1011, station: 0b1101, age: 0b1110, all: 0b1111 };

/** Counts the open holds that match a filter, by everything in one pass. */
export async function summariseHolds(pool: pg.Pool, filter: HoldFilter, now: string): Promise<HoldSummary> {
  const { where, values } = holdConditions(filter);
  const at = `$${String(values.length + 1)}::timestamptz`;
  const { rows } = await pool.query<SummaryRow>(
    `SELECT reason, customer, station, age, GROUPING(reason, customer, station, age) AS counted_by,
       count(*)::integer AS holds, min(raised_at) AS oldest
     FROM (SELECT *, CASE WHEN raised_at > ${at} - interval '1 day' THEN 'underOneDay'
         WHEN raised_at > ${at} - interval '7 days' THEN 'oneToSevenDays' ELSE 'overSevenDays' END AS age
       FROM hold WHERE ${where} AND state = 'open') open_hold
     GROUP BY GROUPING SETS ((reason), (customer), (station), (age), ())`,
    [...values, now],
  );
  const counts = (by: 'reason' | 'customer' | 'station' | 'age'): Record<string, number> =>
    Object.fromEntries(
      rows.flatMap((row) => (row.counted_by === BY[by] && row[by] !== null ? [[row[by], row.holds] as const] : [])),
    );
  const all = rows.find(({ counted_by }) => counted_by === BY.all);
  return {
    open: all?.holds ?? 0,
    oldestRaisedAt: all?.oldest?.toISOString() ?? null,
    byReason: counts('reason'),
    byCustomer: counts('customer'),
    byStation: counts('station'),
    byAge: { underOneDay: 0, oneToSevenDays: 0, overSevenDays: 0, ...counts('age') },
  };
}
