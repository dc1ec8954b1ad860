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
  // What was released before there were signatures carries none, and says so.
  `UPDATE hold SET release = (release::jsonb
       || '{"signature": null, "approved": false, "withoutCause": false, "unsigned": true}')::json
   WHERE release IS NOT NULL`,
  // Whoever raised by hand or decided does not release: said here too, so that no path around the code exists. A CHECK
  // passes what comes out as NULL, hence COALESCE around everything that may be missing.
  `ALTER TABLE hold ADD CONSTRAINT hold_takes_two CHECK (
     (state <> 'released' OR release IS NOT NULL)
     AND (release IS NULL OR coalesce((release ->> 'unsigned')::boolean, false) OR (
       coalesce((release ->> 'by') = (release -> 'signature' ->> 'by'), false)
       AND coalesce((release ->> 'by') <> raised_by, true)
       AND CASE WHEN json_array_length(dispositions) = 0 THEN coalesce((release ->> 'withoutCause')::boolean, false)
         ELSE coalesce((release ->> 'by') <> (dispositions -> -1 -> 'signature' ->> 'by'), false)
           AND (coalesce((dispositions -> -1 ->> 'decision') <> 'use-as-is', false)
             OR coalesce((dispositions -> -1 ->> 'approved')::boolean, false)
             OR coalesce((release ->> 'approved')::boolean, false)) END)))`,
];
