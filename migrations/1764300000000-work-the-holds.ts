import { MigrationInterface, QueryRunner } from 'typeorm';

/** What people do about a hold: decide, assign, comment, sign. */
export class WorkTheHolds1764300000000 implements MigrationInterface {
  readonly name = 'WorkTheHolds1764300000000';

  async up(queries: QueryRunner): Promise<void> {
    for (const statement of UP) await queries.query(statement);
  }

  async down(queries: QueryRunner): Promise<void> {
    await queries.query(`ALTER TABLE hold DROP CONSTRAINT hold_takes_two`);
    await queries.query(
      `ALTER TABLE hold DROP COLUMN dispositions, DROP COLUMN assignee, DROP COLUMN due_at, DROP COLUMN comments,
         DROP COLUMN containment`,
    );
  }
}

const UP = [
  `ALTER TABLE hold
     ADD COLUMN dispositions json NOT NULL DEFAULT '[]',
     ADD COLUMN assignee text COLLATE "C",
     ADD COLUMN due_at timestamptz,
     ADD COLUMN comments json NOT NULL DEFAULT '[]',
     ADD COLUMN containment uuid`,
  `CREATE INDEX hold_by_containment ON hold (containment) WHERE containment IS NOT NULL`,
  `CREATE INDEX hold_open_by_assignee ON hold (assignee, raised_at, id) WHERE state = 'open' AND assignee IS NOT NULL`,
  // Whoever decided, or raised by hand, does not release alone: said here too, so that no path around the code exists.
  // Releases from before there were signatures carry none and are left as they are.
  `ALTER TABLE hold ADD CONSTRAINT hold_takes_two CHECK (
     release IS NULL OR release -> 'signature' IS NULL
     OR (release ->> 'by' IS DISTINCT FROM raised_by
         AND release ->> 'by' IS DISTINCT FROM (dispositions -> -1 -> 'signature' ->> 'by')
         AND (dispositions -> -1 ->> 'decision' IS DISTINCT FROM 'use-as-is'
              OR coalesce((dispositions -> -1 ->> 'approved')::boolean, false)
              OR coalesce((release ->> 'approved')::boolean, false))))`,
];
