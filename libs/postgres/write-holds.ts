import { HoldRecord } from '../ledger/holds/hold-record.js';
import { rowsOf } from './bulk-rows.js';
import { fromHold, HOLD_COLUMNS } from './hold-row.js';
import { Queries } from './queries.js';

/** Writes new holds, and known ones as they are now. */
export async function writeHolds(queries: Queries, holds: readonly HoldRecord[]): Promise<void> {
  if (holds.length === 0) return;
  await queries.query(
    `INSERT INTO hold (${HOLD_COLUMNS}, stream, unit_key, device)
     SELECT ${HOLD_COLUMNS}, stream, unit_key, device FROM json_to_recordset($1::json) AS n(id uuid, state text,
       reason text, subject json, assembly text, serial text, customer text, station text, operator text,
       raised_at timestamptz, raised_by text, causes jsonb, evidence json, remedy text, touched boolean,
       cause_gone boolean, release json, dispositions json, assignee text, due_at timestamptz, comments json,
       containment uuid, stream text, unit_key text, device text)
     ON CONFLICT (id) DO UPDATE SET state = excluded.state, causes = excluded.causes, evidence = excluded.evidence,
       remedy = excluded.remedy, assembly = excluded.assembly,
       serial = excluded.serial, unit_key = excluded.unit_key, customer = excluded.customer, station = excluded.station, operator = excluded.operator,
       touched = excluded.touched, cause_gone = excluded.cause_gone, release = excluded.release,
       dispositions = excluded.dispositions, assignee = excluded.assignee, due_at = excluded.due_at,
       comments = excluded.comments`,
    [rowsOf(holds.map(fromHold))],
  );
}
