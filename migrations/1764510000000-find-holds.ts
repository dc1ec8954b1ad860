import { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * Indexes for lists of holds that went through all of them: what is closed in the order of the desk, by unit, and by
 * device. The expression is the one that `list-holds.ts` sorts by.
 */
export class FindHolds1764510000000 implements MigrationInterface {
  readonly name = 'FindHolds1764510000000';

  async up(queries: QueryRunner): Promise<void> {
    // Open holds come in this order from it too, so that the index of open ones alone is not needed any more.
    await queries.query(`CREATE INDEX hold_by_graveness ON hold (state, (${GRAVENESS}), raised_at, id)`);
    await queries.query(`DROP INDEX hold_open_by_graveness`);
    await queries.query(`CREATE INDEX hold_by_serial ON hold (serial, assembly)`);
    await queries.query(`CREATE INDEX hold_by_device ON hold (device) WHERE device IS NOT NULL`);
  }

  async down(queries: QueryRunner): Promise<void> {
    await queries.query(`DROP INDEX hold_by_device, hold_by_serial`);
    await queries.query(
      `CREATE INDEX hold_open_by_graveness ON hold ((${GRAVENESS}), raised_at, id) WHERE state = 'open'`,
    );
    await queries.query(`DROP INDEX hold_by_graveness`);
  }
}

const GRAVENESS = `CASE WHEN reason IN ('late-event', 'shipped-open') THEN 1
  WHEN reason IN ('event-parked', 'summary-mismatch', 'by-hand') THEN 3 ELSE 2 END`;
