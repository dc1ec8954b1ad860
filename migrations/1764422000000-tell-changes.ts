import { MigrationInterface, QueryRunner } from 'typeorm';

/** Notes of what was committed, for those who follow along. */
export class TellChanges1764422000000 implements MigrationInterface {
  readonly name = 'TellChanges1764422000000';

  async up(queries: QueryRunner): Promise<void> {
    for (const statement of UP) await queries.query(statement);
  }

  async down(queries: QueryRunner): Promise<void> {
    await queries.query(`DROP TRIGGER ledger_entry_tells_change ON ledger_entry`);
    for (const table of ['hold', 'clearance']) {
      await queries.query(`DROP TRIGGER ${table}_added_tells_change ON ${table}`);
      await queries.query(`DROP TRIGGER ${table}_changed_tells_change ON ${table}`);
    }
    await queries.query(`DROP FUNCTION tell_entries, tell_changes`);
    await queries.query(`DROP TABLE change_note`);
  }
}

const UP = [
  // Read in order of transaction, and only of those before which none is at work: whoever has read up to a place never
  // misses one that was committed late. One row for each statement, whatever it changed.
  `CREATE TABLE change_note (
     transaction xid8 NOT NULL DEFAULT pg_current_xact_id(),
     number bigint GENERATED ALWAYS AS IDENTITY,
     at timestamptz NOT NULL DEFAULT now(),
     subjects text[] NOT NULL DEFAULT '{}',
     seqs integer[] NOT NULL DEFAULT '{}',
     holds uuid[] NOT NULL DEFAULT '{}',
     clearances uuid[] NOT NULL DEFAULT '{}',
     PRIMARY KEY (transaction, number)
   )`,
  `CREATE INDEX change_note_by_age ON change_note (at)`,
  // With the owner's rights, so that the service itself cannot tell of what did not happen.
  `CREATE FUNCTION tell_entries() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
   BEGIN
     INSERT INTO change_note (subjects, seqs)
     SELECT array_agg(subject ORDER BY seq), array_agg(seq ORDER BY seq) FROM added HAVING count(*) > 0;
     RETURN NULL;
   END $$`,
  `CREATE FUNCTION tell_changes() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
   BEGIN
     IF TG_TABLE_NAME = 'hold' THEN
       INSERT INTO change_note (holds) SELECT array_agg(id) FROM changed HAVING count(*) > 0;
     ELSE
       INSERT INTO change_note (clearances) SELECT array_agg(id) FROM changed HAVING count(*) > 0;
     END IF;
     RETURN NULL;
   END $$`,
  `REVOKE ALL ON FUNCTION tell_entries, tell_changes FROM PUBLIC`,
  `CREATE TRIGGER ledger_entry_tells_change AFTER INSERT ON ledger_entry REFERENCING NEW TABLE AS added
   FOR EACH STATEMENT EXECUTE FUNCTION tell_entries()`,
  ...['hold', 'clearance'].flatMap((table) => [
    `CREATE TRIGGER ${table}_added_tells_change AFTER INSERT ON ${table} REFERENCING NEW TABLE AS changed
     FOR EACH STATEMENT EXECUTE FUNCTION tell_changes()`,
    `CREATE TRIGGER ${table}_changed_tells_change AFTER UPDATE ON ${table} REFERENCING NEW TABLE AS changed
     FOR EACH STATEMENT EXECUTE FUNCTION tell_changes()`,
  ]),
  // It names every customer's boards: for the house alone.
  `SELECT confine_table('change_note')`,
  `DO $$ BEGIN
     IF EXISTS (SELECT FROM pg_roles WHERE rolname = 'heatbook_app') THEN
       GRANT SELECT, DELETE ON change_note TO heatbook_app;
     END IF;
   END $$`,
];
