import { MigrationInterface, QueryRunner } from 'typeorm';

/** The record of who was refused, who signed in or out, and who changed the setup or the keys. */
export class RecordAccess1764331000000 implements MigrationInterface {
  readonly name = 'RecordAccess1764331000000';

  async up(queries: QueryRunner): Promise<void> {
    for (const statement of UP) await queries.query(statement);
  }

  async down(queries: QueryRunner): Promise<void> {
    await queries.query(`DROP TRIGGER setup_revision_on_record ON setup_revision`);
    await queries.query(`DROP FUNCTION record_setup_change`);
    await queries.query(`DROP TABLE access_record`);
  }
}

const UP = [
  // Milliseconds, as callers see them, so that a page ends where its cursor says.
  `CREATE TABLE access_record (
     number bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
     at timestamptz(3) NOT NULL,
     kind text NOT NULL,
     caller text COLLATE "C",
     roles text[] NOT NULL,
     route text,
     subject text COLLATE "C",
     outcome text NOT NULL
   )`,
  `CREATE INDEX access_record_by_time ON access_record (at, number)`,
  `CREATE INDEX access_record_by_caller ON access_record (caller, at, number)`,
  `CREATE TRIGGER access_record_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON access_record
   FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()`,
  // By trigger, so that no revision is ever written without it.
  `CREATE FUNCTION record_setup_change() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER
   SET search_path = public, pg_temp AS $$
   BEGIN
     INSERT INTO access_record (at, kind, caller, roles, subject, outcome)
     VALUES (NEW.at, 'setup-changed', NEW."by", '{}', NEW.kind || ' ' || NEW.name, 'revision ' || NEW.revision);
     RETURN NULL;
   END $$`,
  `CREATE TRIGGER setup_revision_on_record AFTER INSERT ON setup_revision
   FOR EACH ROW EXECUTE FUNCTION record_setup_change()`,
  `REVOKE ALL ON FUNCTION record_setup_change FROM PUBLIC`,
  `SELECT confine_table('access_record')`,
  `DO $$ BEGIN
     IF EXISTS (SELECT FROM pg_roles WHERE rolname = 'heatbook_app') THEN
       GRANT SELECT, INSERT ON access_record TO heatbook_app;
     END IF;
   END $$`,
];
