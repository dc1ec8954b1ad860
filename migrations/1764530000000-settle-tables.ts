import { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * How often Postgres tidies the tables that grow for years, what keeps a claim from going through all that was folded since it
 * last did, and two indexes less that no question needs. What was measured, and why ledgers and inbox stay whole tables, is
 * in docs/adr/0022.
 */
export class SettleTables1764530000000 implements MigrationInterface {
  readonly name = 'SettleTables1764530000000';

  async up(queries: QueryRunner): Promise<void> {
    for (const table of ONLY_ADDED_TO) await queries.query(`ALTER TABLE ${table} SET (${settings(ADDED)})`);
    await queries.query(`ALTER TABLE subject SET (${settings(REWRITTEN)})`);
    await queries.query(OLDEST_DUE);
    await queries.query(`DROP INDEX subject_devices_aboard, legal_hold_in_force`);
    // Both are written by one statement, and no clearance is ever deleted: checking it took a gate a quarter of a millisecond.
    await queries.query(`ALTER TABLE clearance_reach DROP CONSTRAINT clearance_reach_clearance_fkey`);
  }

  async down(queries: QueryRunner): Promise<void> {
    await queries.query(`ALTER TABLE clearance_reach ADD FOREIGN KEY (clearance) REFERENCES clearance`);
    await queries.query(`CREATE INDEX legal_hold_in_force ON legal_hold (assembly, serial) WHERE lifted_at IS NULL`);
    await queries.query(`CREATE INDEX subject_devices_aboard ON subject (assembly, serial) WHERE kind = 'device'`);
    await queries.query(`DROP FUNCTION oldest_due`);
    await queries.query(`ALTER TABLE subject RESET (${Object.keys(REWRITTEN).join(', ')})`);
    for (const table of ONLY_ADDED_TO) {
      await queries.query(`ALTER TABLE ${table} RESET (${Object.keys(ADDED).join(', ')})`);
    }
  }
}

/** A row or more for every event, for ever. */
const ONLY_ADDED_TO = ['intake_event', 'ledger_entry', 'mark_group', 'log_leaf', 'log_node'];

/**
 * A vacuum after so many new rows, however large the table has become: a fifth of ten years' entries would wait for one
 * otherwise, and be read whole by each question of what happened at a time, since nothing sums them up before. It marks
 * pages as never to be looked at again, which costs nothing while they are being written anyway, and saves writing each
 * once more years later.
 */
const ADDED = {
  autovacuum_vacuum_insert_scale_factor: '0',
  autovacuum_vacuum_insert_threshold: '10000',
  autovacuum_freeze_min_age: '0',
};

/** Each fold leaves an old version of every state that it changed; a fifth of all states would wait for their removal. */
const REWRITTEN = { autovacuum_vacuum_scale_factor: '0.03', autovacuum_vacuum_threshold: '2000' };

/**
 * Numbers of the due events of a shard, oldest first, read in the order of the index and in no other way: whoever reads like that
 * marks entries of rows that are gone, and nobody comes by them again. By a bitmap, which the planner takes since so few are
 * pending, each claim goes through all that was folded since the last vacuum.
 */
const OLDEST_DUE = `CREATE FUNCTION oldest_due(wanted smallint, most integer) RETURNS SETOF bigint LANGUAGE sql STABLE
  SET enable_bitmapscan = off SET enable_seqscan = off SET enable_sort = off AS $$
    SELECT number FROM intake_pending WHERE shard = wanted AND due_at <= now() ORDER BY number LIMIT most
  $$`;

function settings(of: Readonly<Record<string, string>>): string {
  return Object.entries(of)
    .map(([name, value]) => `${name} = ${value}`)
    .join(', ');
}
