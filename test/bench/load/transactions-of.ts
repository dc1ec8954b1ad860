import pg from 'pg';
import { SHOP } from '../../support/small-shop.js';

/** Into how many transactions the events of a series went. */
export interface Transactions {
  readonly inserts: number;
  readonly folds: number;
}

/** By who wrote each row, which Postgres keeps beside it. */
const LOOK = `
  SELECT
    (SELECT count(DISTINCT xmin::text)::integer FROM intake_event WHERE source = $1 AND event_id ^@ $2) AS inserts,
    (SELECT count(DISTINCT xmin::text)::integer FROM ledger_entry WHERE subject ^@ $3 OR subject ^@ $4) AS folds`;

/** @param series begins every serial number, as for `reworkLine`; a dash comes after it */
export async function transactionsOf(client: pg.Client, series: string): Promise<Transactions> {
  const values = [`/stations/${SHOP.bench}`, `${series}-`, `${SHOP.assembly}/${series}-`, `devices/D-${series}-`];
  const { rows } = await client.query<Transactions>(LOOK, values);
  return rows[0] ?? { inserts: NaN, folds: NaN };
}
