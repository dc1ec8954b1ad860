import { MigrationInterface, QueryRunner } from 'typeorm';

/** Legal holds: what may not be removed, however long it has been kept. */
export class KeepLegalHolds1764421000000 implements MigrationInterface {
  readonly name = 'KeepLegalHolds1764421000000';

  async up(queries: QueryRunner): Promise<void> {
    for (const statement of UP) await queries.query(statement);
  }

  async down(queries: QueryRunner): Promise<void> {
    await queries.query(`DROP INDEX ledger_entry_departures`);
    await queries.query(`DROP TABLE legal_hold`);
    await queries.query(`DROP FUNCTION keep_legal_hold`);
  }
}

const UP = [
  `CREATE TABLE legal_hold (
     id uuid PRIMARY KEY,
     customer text COLLATE "C",
     assembly text COLLATE "C",
     serial text COLLATE "C",
     reference text NOT NULL,
     set_by text COLLATE "C" NOT NULL,
     set_at timestamptz NOT NULL,
     set_act json NOT NULL,
     lifted_by text COLLATE "C",
     lifted_at timestamptz,
     lift_act json,
     CONSTRAINT legal_hold_is_over_one CHECK (
       (customer IS NULL) <> (assembly IS NULL) AND (serial IS NULL OR assembly IS NOT NULL)),
     CONSTRAINT legal_hold_is_signed CHECK (
       coalesce(set_by = set_act #>> '{signature,by}', false)
       AND num_nulls(lifted_by, lifted_at, lift_act) IN (0, 3)
       AND (lifted_by IS NULL OR coalesce(lifted_by = lift_act #>> '{signature,by}', false))),
     CONSTRAINT legal_hold_takes_two CHECK (lifted_by IS NULL OR lifted_by <> set_by)
   )`,
  // When a unit left: looked up for each unit that may be due.
  `CREATE INDEX ledger_entry_departures ON ledger_entry (subject, happened_at)
   WHERE type IN ('heatbook.unit.shipped.v1', 'heatbook.unit.scrapped.v1')`,
  `CREATE INDEX legal_hold_by_age ON legal_hold (set_at, id)`,
  `CREATE INDEX legal_hold_in_force ON legal_hold (assembly, serial) WHERE lifted_at IS NULL`,
  // It is lifted once; nothing else about it ever changes.
  `CREATE FUNCTION keep_legal_hold() RETURNS trigger LANGUAGE plpgsql AS $$
   BEGIN
     IF OLD.lifted_at IS NULL AND NEW.lifted_at IS NOT NULL
       AND (NEW.id, NEW.reference, NEW.set_by, NEW.set_at, NEW.set_act::text)
         = (OLD.id, OLD.reference, OLD.set_by, OLD.set_at, OLD.set_act::text)
       AND (NEW.customer, NEW.assembly, NEW.serial) IS NOT DISTINCT FROM (OLD.customer, OLD.assembly, OLD.serial)
     THEN RETURN NEW; END IF;
     RAISE EXCEPTION 'a legal hold can only be lifted, once; set another one if it is needed';
   END $$`,
  `CREATE TRIGGER legal_hold_stays_as_set BEFORE UPDATE ON legal_hold
   FOR EACH ROW EXECUTE FUNCTION keep_legal_hold()`,
  `CREATE TRIGGER legal_hold_stays BEFORE DELETE OR TRUNCATE ON legal_hold
   FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()`,
  // Customers see nothing of it.
  `SELECT confine_table('legal_hold')`,
  `DO $$ BEGIN
     IF EXISTS (SELECT FROM pg_roles WHERE rolname = 'heatbook_app') THEN
       GRANT SELECT, INSERT, UPDATE (lifted_by, lifted_at, lift_act) ON legal_hold TO heatbook_app;
     END IF;
   END $$`,
];
