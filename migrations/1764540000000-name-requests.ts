import { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * The request that brought an event, so that it can be followed from the station's own record to the ledger and back. Null
 * unless whoever sent it has named it: a column that is null takes no room, and reading it costs nothing where nobody asks.
 */
export class NameRequests1764540000000 implements MigrationInterface {
  readonly name = 'NameRequests1764540000000';

  async up(queries: QueryRunner): Promise<void> {
    await queries.query(`ALTER TABLE intake_event ADD COLUMN request_id text, ADD COLUMN traceparent text`);
  }

  async down(queries: QueryRunner): Promise<void> {
    await queries.query(`ALTER TABLE intake_event DROP COLUMN request_id, DROP COLUMN traceparent`);
  }
}
