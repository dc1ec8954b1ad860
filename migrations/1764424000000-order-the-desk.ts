import { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * Keeps open holds in the order of the desk, gravest first, so that its first page is read off an index. Without it every
 * open hold was read and sorted for a page of a hundred. The expression is the one that `list-holds.ts` sorts by.
 */
export class OrderTheDesk1764424000000 implements MigrationInterface {
  readonly name = 'OrderTheDesk1764424000000';

  async up(queries: QueryRunner): Promise<void> {
    await queries.query(
      `CREATE INDEX hold_open_by_graveness ON hold ((CASE WHEN reason IN ('late-event', 'shipped-open') THEN 1
         WHEN reason IN ('event-parked', 'summary-mismatch', 'by-hand') THEN 3 ELSE 2 END), raised_at, id)
       WHERE state = 'open'`,
    );
  }

  async down(queries: QueryRunner): Promise<void> {
    await queries.query(`DROP INDEX hold_open_by_graveness`);
  }
}
