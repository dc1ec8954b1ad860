import { MigrationInterface, QueryRunner } from 'typeorm';

/** Takes out of intake and fold what cost most and gave least. What each saves is in docs/scale.md. */
export class QuickenTheFold1764500000000 implements MigrationInterface {
  readonly name = 'QuickenTheFold1764500000000';

  async up(queries: QueryRunner): Promise<void> {
    for (const statement of UP) await queries.query(statement);
  }

  async down(queries: QueryRunner): Promise<void> {
    for (const statement of DOWN) await queries.query(statement);
  }
}

/** Nothing in it is ever changed, and customers do not see it. */
function keptForTheHouse(table: string): string[] {
  return [
    `CREATE TRIGGER ${table}_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON ${table}
     FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()`,
    `SELECT confine_table('${table}')`,
    `DO $$ BEGIN
       IF EXISTS (SELECT FROM pg_roles WHERE rolname = 'heatbook_app') THEN
         GRANT SELECT, INSERT ON ${table} TO heatbook_app;
       END IF;
     END $$`,
  ];
}

const UP = [
  // Both rows are written by one statement, and an event is never deleted. The key was checked row by row, which took a
  // third of what an insert into the inbox took.
  `ALTER TABLE intake_pending DROP CONSTRAINT intake_pending_number_fkey`,
  // Goes through the insert, so that what it returns need not be joined with what was given.
  `ALTER TABLE intake_event ADD COLUMN shard smallint`,
  // A state of up to two to a page stays as it is: compressing it at every change took as long as writing it.
  `ALTER TABLE subject SET (toast_tuple_target = 8160)`,
  // One row for all entries of one write that have a mark in common and happened in the same hour.
  `CREATE TABLE mark_group (
     mark text COLLATE "C" NOT NULL,
     hour timestamptz NOT NULL,
     number bigint GENERATED ALWAYS AS IDENTITY,
     subjects text[] NOT NULL,
     seqs integer[] NOT NULL CHECK (cardinality(seqs) = cardinality(subjects)),
     PRIMARY KEY (mark, hour, number)
   )`,
  `INSERT INTO mark_group (mark, hour, subjects, seqs)
   SELECT mark, date_trunc('hour', happened_at, 'UTC'), array_agg(subject ORDER BY subject, seq),
     array_agg(seq ORDER BY subject, seq)
   FROM entry_mark GROUP BY 1, 2`,
  `DROP TABLE entry_mark`,
  ...keptForTheHouse('mark_group'),
];

const DOWN = [
  `CREATE TABLE entry_mark (
     mark text COLLATE "C" NOT NULL,
     happened_at timestamptz NOT NULL,
     subject text COLLATE "C" NOT NULL,
     seq integer NOT NULL,
     PRIMARY KEY (mark, happened_at, subject, seq)
   )`,
  `INSERT INTO entry_mark (mark, happened_at, subject, seq)
   SELECT m.mark, coalesce(e.happened_at, '-infinity'), subject, seq
   FROM (SELECT mark, unnest(subjects) AS subject, unnest(seqs) AS seq FROM mark_group) m
     JOIN ledger_entry e USING (subject, seq)`,
  `DROP TABLE mark_group`,
  ...keptForTheHouse('entry_mark'),
  `ALTER TABLE subject RESET (toast_tuple_target)`,
  `ALTER TABLE intake_event DROP COLUMN shard`,
  `ALTER TABLE intake_pending ADD FOREIGN KEY (number) REFERENCES intake_event`,
];
