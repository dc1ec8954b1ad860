import { MigrationInterface, QueryRunner } from 'typeorm';

/** Notices of what runs out, each once, and what the timers find them by without reading the whole book. */
export class GiveNotice1764360000000 implements MigrationInterface {
  readonly name = 'GiveNotice1764360000000';

  async up(queries: QueryRunner): Promise<void> {
    for (const statement of UP) await queries.query(statement);
  }

  async down(queries: QueryRunner): Promise<void> {
    await queries.query(`DROP TABLE notice`);
    await queries.query(`DROP INDEX subject_by_clock, hold_open_by_due`);
    await queries.query(`ALTER TABLE subject DROP COLUMN clock_warns_at, DROP COLUMN clock_ends_at`);
  }
}

const UP = [
  // Filled when a subject's state is next written; until then its clock is shown but not warned of.
  `ALTER TABLE subject ADD COLUMN clock_warns_at timestamptz, ADD COLUMN clock_ends_at timestamptz`,
  `CREATE INDEX subject_by_clock ON subject (clock_warns_at) WHERE clock_warns_at IS NOT NULL`,
  `CREATE INDEX hold_open_by_due ON hold (due_at) WHERE state = 'open' AND due_at IS NOT NULL`,
  `CREATE TABLE notice (
     id uuid PRIMARY KEY,
     kind text NOT NULL,
     level text NOT NULL CHECK (level IN ('ahead', 'due')),
     subject json NOT NULL,
     stream text COLLATE "C" NOT NULL,
     item text COLLATE "C" NOT NULL,
     due_at timestamptz NOT NULL,
     raised_at timestamptz NOT NULL,
     detail text NOT NULL,
     remedy text NOT NULL,
     acknowledgement json,
     settled_at timestamptz,
     CONSTRAINT notice_once UNIQUE (kind, stream, item, due_at, level)
   )`,
  `CREATE INDEX notice_by_due ON notice (due_at, id)`,
  `CREATE INDEX notice_standing ON notice (kind, due_at, id) WHERE settled_at IS NULL`,
  // They tell of every customer's boards: for the house alone.
  `SELECT confine_table('notice')`,
  `DO $$ BEGIN
     IF EXISTS (SELECT FROM pg_roles WHERE rolname = 'heatbook_app') THEN
       GRANT SELECT, INSERT, UPDATE ON notice TO heatbook_app;
     END IF;
   END $$`,
];
