import { HoldFilter, HoldSummary } from '../ledger/ports/read-store.js';
import { Queries } from './queries.js';

/** `stageOf`, in SQL. */
const STAGE = `CASE WHEN state <> 'open' THEN 'closed' WHEN json_array_length(dispositions) > 0 THEN 'decided'
  WHEN assignee IS NOT NULL THEN 'assigned' ELSE 'new' END`;

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
    ['subjectKind', `subject ->> 'kind' = ?`],
    ['stage', `${STAGE} = ?`],
    ['assignee', 'assignee = ?'],
    ['containment', 'containment = ?::uuid'],
    ['dueBefore', `state = 'open' AND due_at < ?::timestamptz`],
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

type Dimension = 'reason' | 'customer' | 'station' | 'assignee' | 'stage' | 'age' | 'overdue';

interface SummaryRow extends Readonly<Record<Dimension, string | null>> {
  readonly counted_by: number;
  readonly holds: number;
  readonly oldest: Date | null;
}

const DIMENSIONS: readonly Dimension[] = ['reason', 'customer', 'station', 'assignee', 'stage', 'age', 'overdue'];
const ALL = 2 ** DIMENSIONS.length - 1;

/** What GROUPING() answers where only that column is not grouped away. */
function countedBy(dimension: Dimension): number {
  return ALL - 2 ** (DIMENSIONS.length - 1 - DIMENSIONS.indexOf(dimension));
}

/**
 * Counts the open holds that match a filter, by everything in one pass: first those that are alike in all of it, of which
 * there are few, then these by each.
 */
export async function summariseHolds(queries: Queries, filter: HoldFilter, now: string): Promise<HoldSummary> {
  const { where, values } = holdConditions(filter);
  const at = `$${String(values.length + 1)}::timestamptz`;
  const { rows } = await queries.query<SummaryRow>(
    `SELECT ${DIMENSIONS.join(', ')}, GROUPING(${DIMENSIONS.join(', ')}) AS counted_by,
       sum(alike)::integer AS holds, min(oldest) AS oldest
     FROM (SELECT ${DIMENSIONS.join(', ')}, count(*) AS alike, min(raised_at) AS oldest
       FROM (SELECT reason, customer, station, assignee, raised_at, ${STAGE} AS stage,
           CASE WHEN raised_at > ${at} - interval '1 day' THEN 'underOneDay'
             WHEN raised_at > ${at} - interval '7 days' THEN 'oneToSevenDays' ELSE 'overSevenDays' END AS age,
           CASE WHEN due_at < ${at} THEN 'overdue' END AS overdue
         FROM hold WHERE ${where} AND state = 'open') open_hold
       GROUP BY ${DIMENSIONS.join(', ')}) of_a_kind
     GROUP BY GROUPING SETS (${DIMENSIONS.map((dimension) => `(${dimension})`).join(', ')}, ())`,
    [...values, now],
  );
  const counts = (by: Dimension): Record<string, number> =>
    Object.fromEntries(
      rows.flatMap((row) => {
        const value = row[by];
        return row.counted_by === countedBy(by) && value !== null ? [[value, row.holds] as const] : [];
      }),
    );
  const all = rows.find(({ counted_by }) => counted_by === ALL);
  return {
    open: all?.holds ?? 0,
    oldestRaisedAt: all?.oldest?.toISOString() ?? null,
    byReason: counts('reason'),
    byCustomer: counts('customer'),
    byStation: counts('station'),
    byAssignee: counts('assignee'),
    byStage: { new: 0, assigned: 0, decided: 0, ...counts('stage') },
    overdue: counts('overdue')['overdue'] ?? 0,
    byAge: { underOneDay: 0, oneToSevenDays: 0, overSevenDays: 0, ...counts('age') },
  };
}
