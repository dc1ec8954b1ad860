import { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * Says the policy of the house as one yes or no that is read in the sub-select. Compared outside of it, the planner took the
 * setting for a column and expected a single row of any table, and so went through whole tables for each row of a write.
 */
export class PlanForTheHouse1764370000000 implements MigrationInterface {
  readonly name = 'PlanForTheHouse1764370000000';

  async up(queries: QueryRunner): Promise<void> {
    await sayTheHouse(queries, `(SELECT current_setting('heatbook.customer', true) = '*')`);
  }

  async down(queries: QueryRunner): Promise<void> {
    await sayTheHouse(queries, `(SELECT current_setting('heatbook.customer', true)) = '*'`);
  }
}

/** In every table that is confined, and in those that will be. */
async function sayTheHouse(queries: QueryRunner, condition: string): Promise<void> {
  const quoted = condition.replaceAll(`'`, `''`);
  await queries.query(
    `DO $do$ DECLARE confined regclass; BEGIN
       FOR confined IN SELECT polrelid::regclass FROM pg_policy WHERE polname = 'house' LOOP
         EXECUTE format('ALTER POLICY house ON %s USING (${quoted})', confined);
       END LOOP;
     END $do$`,
  );
  await queries.query(
    `CREATE OR REPLACE FUNCTION confine_table(target regclass, own text DEFAULT NULL) RETURNS void LANGUAGE plpgsql AS $$
     BEGIN
       EXECUTE format('ALTER TABLE %s ENABLE ROW LEVEL SECURITY', target);
       EXECUTE format('ALTER TABLE %s FORCE ROW LEVEL SECURITY', target);
       EXECUTE format('CREATE POLICY house ON %s USING (${quoted})', target);
       IF own IS NOT NULL THEN EXECUTE format('CREATE POLICY customer ON %s FOR SELECT USING (%s)', target, own); END IF;
     END $$`,
  );
}
