import { MigrationInterface, QueryRunner } from 'typeorm';

/** How far what is in the house has been judged anew for revisions of limits, and what finds what is in the house. */
export class RecheckLimits1764350000000 implements MigrationInterface {
  readonly name = 'RecheckLimits1764350000000';

  async up(queries: QueryRunner): Promise<void> {
    for (const statement of UP) await queries.query(statement);
  }

  async down(queries: QueryRunner): Promise<void> {
    await queries.query(`DROP INDEX subject_open`);
    await queries.query(`DROP TABLE limit_recheck`);
  }
}

const UP = [
  `CREATE TABLE limit_recheck (
     name text COLLATE "C" NOT NULL,
     revision integer NOT NULL,
     effective_at timestamptz NOT NULL,
     state text NOT NULL DEFAULT 'waiting' CHECK (state IN ('waiting', 'running', 'done', 'none')),
     why text,
     version bigint,
     phase text NOT NULL DEFAULT 'unit' CHECK (phase IN ('unit', 'device')),
     after text COLLATE "C",
     counts json NOT NULL
       DEFAULT '{"subjects":0,"holdsRaised":0,"holdsWithdrawn":0,"holdsMarked":0,"warnings":0}',
     started_at timestamptz,
     finished_at timestamptz,
     PRIMARY KEY (name, revision)
   )`,
  `CREATE INDEX limit_recheck_due ON limit_recheck (effective_at) WHERE state IN ('waiting', 'running')`,
  // Pages of what is in the house; those that have left are most of the book after a while.
  `CREATE INDEX subject_open ON subject (kind, key) WHERE status IN ('expected', 'in-house', 'loose')`,
  // What was in force before there were rechecks has been judged by as it was.
  `INSERT INTO limit_recheck (name, revision, effective_at, state, why)
   SELECT name, revision, at, 'none', 'It was entered before the service judged anew what is in the house.'
   FROM setup_revision WHERE kind = 'limit' AND by <> 'house default'`,
  `SELECT confine_table('limit_recheck')`,
  `DO $$ BEGIN
     IF EXISTS (SELECT FROM pg_roles WHERE rolname = 'heatbook_app') THEN
       GRANT SELECT, INSERT, UPDATE ON limit_recheck TO heatbook_app;
     END IF;
   END $$`,
];
