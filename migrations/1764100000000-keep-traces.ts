import { MigrationInterface, QueryRunner } from 'typeorm';

/** Trace files, and which subject's ledger speaks of which trace. */
export class KeepTraces1764100000000 implements MigrationInterface {
  readonly name = 'KeepTraces1764100000000';

  async up(queries: QueryRunner): Promise<void> {
    for (const statement of UP) await queries.query(statement);
  }

  async down(queries: QueryRunner): Promise<void> {
    await queries.query(`DROP TABLE trace_use, trace`);
  }
}

const UP = [
  // Bytes, not text: a logger's file need not be in the encoding of the database, and its hash is over what came.
  `CREATE TABLE trace (
     name text COLLATE "C" PRIMARY KEY,
     content bytea NOT NULL,
     content_hash text NOT NULL,
     encoding text NOT NULL CHECK (encoding IN ('utf8', 'utf16le', 'latin1')),
     thermocouple_type text CHECK (thermocouple_type IN ('K', 'J', 'T')),
     cold_junction_c double precision,
     by text NOT NULL,
     at timestamptz NOT NULL,
     CHECK ((thermocouple_type IS NULL) = (cold_junction_c IS NULL))
   )`,
  `CREATE TRIGGER trace_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON trace
   FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()`,
  // No reference to trace: a step may name a trace that is uploaded later, or never.
  `CREATE TABLE trace_use (
     trace text COLLATE "C" NOT NULL,
     subject text COLLATE "C" NOT NULL,
     PRIMARY KEY (trace, subject)
   )`,
  `DO $$ BEGIN
     IF EXISTS (SELECT FROM pg_roles WHERE rolname = 'heatbook_app') THEN
       GRANT SELECT, INSERT ON trace, trace_use TO heatbook_app;
     END IF;
   END $$`,
];
