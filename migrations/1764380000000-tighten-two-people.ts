import { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * Closes what `hold_takes_two` leaves open to whoever writes to the table past the code: a release that only says that it is
 * from before there were signatures, one that only says that its cause was gone, and withdrawing what people have decided.
 */
export class TightenTwoPeople1764380000000 implements MigrationInterface {
  readonly name = 'TightenTwoPeople1764380000000';

  async up(queries: QueryRunner): Promise<void> {
    for (const statement of UP) await queries.query(statement);
  }

  async down(queries: QueryRunner): Promise<void> {
    await queries.query(
      `ALTER TABLE hold DROP CONSTRAINT hold_unsigned_is_old, DROP CONSTRAINT hold_without_cause,
         DROP CONSTRAINT hold_withdrawn_by_facts`,
    );
  }
}

const UP = [
  // Signatures are there by now, so that only what has been released until this very moment may lack one.
  `DO $$ BEGIN
     EXECUTE format(
       'ALTER TABLE hold ADD CONSTRAINT hold_unsigned_is_old CHECK (
          release IS NULL OR NOT coalesce((release ->> ''unsigned'')::boolean, false)
          OR (raised_at < %L AND json_array_length(dispositions) = 0))', now());
   END $$`,
  `ALTER TABLE hold ADD CONSTRAINT hold_without_cause CHECK (
     release IS NULL OR NOT coalesce((release ->> 'withoutCause')::boolean, false) OR cause_gone)`,
  // The book withdraws what it raised itself and nobody has decided about.
  `ALTER TABLE hold ADD CONSTRAINT hold_withdrawn_by_facts CHECK (
     state <> 'withdrawn' OR (reason <> 'by-hand' AND json_array_length(dispositions) = 0))`,
];
