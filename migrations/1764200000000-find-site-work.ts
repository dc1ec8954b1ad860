import { MigrationInterface, QueryRunner } from 'typeorm';

/** Dressings and inspections are looked through by time for damage rates; they are a small part of a ledger. */
export class FindSiteWork1764200000000 implements MigrationInterface {
  readonly name = 'FindSiteWork1764200000000';

  async up(queries: QueryRunner): Promise<void> {
    await queries.query(
      `CREATE INDEX ledger_entry_site_work ON ledger_entry (recorded_at)
       WHERE type IN ('heatbook.site.dressed.v1', 'heatbook.inspection.recorded.v1')`,
    );
  }

  async down(queries: QueryRunner): Promise<void> {
    await queries.query(`DROP INDEX ledger_entry_site_work`);
  }
}
