import { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * Row-level security: a connection sees a customer's rows where the setting `heatbook.customer` names that customer, every
 * row where it is `*` (the house itself), and none where it is unset or empty.
 */
export class ConfineCustomers1764330000000 implements MigrationInterface {
  readonly name = 'ConfineCustomers1764330000000';

  async up(queries: QueryRunner): Promise<void> {
    for (const statement of UP) await queries.query(statement);
  }

  async down(queries: QueryRunner): Promise<void> {
    for (const table of CONFINED) {
      await queries.query(`DROP POLICY house ON ${table}`);
      await queries.query(`DROP POLICY IF EXISTS customer ON ${table}`);
      await queries.query(`ALTER TABLE ${table} NO FORCE ROW LEVEL SECURITY`);
      await queries.query(`ALTER TABLE ${table} DISABLE ROW LEVEL SECURITY`);
    }
    await queries.query(`CREATE INDEX hold_by_cause ON hold USING gin (causes jsonb_path_ops)`);
    await queries.query(`DROP INDEX subject_devices_aboard`);
    await queries.query(`UPDATE subject SET assembly = NULL, serial = NULL WHERE kind = 'device'`);
    await queries.query(`DROP TRIGGER setup_revision_names_customer ON setup_revision`);
    await queries.query(`DROP FUNCTION confine_table, own_assembly, customers_assemblies, keep_assembly_customer`);
    await queries.query(`DROP TABLE assembly_customer`);
  }
}

const CONFINED = [
  'subject',
  'ledger_entry',
  'hold',
  'clearance',
  'clearance_reach',
  'request_answer',
  'trace_use',
  'trace',
  'intake_event',
  'intake_pending',
  'intake_parked',
  'setup_revision',
  'access_key',
  'person',
  'person_change',
  'person_session',
  'password_attempt',
];

const UP = [
  // Whose an assembly is now. `*` is the house and empty is nobody, so that neither can be a customer.
  `CREATE TABLE assembly_customer (
     assembly text COLLATE "C" PRIMARY KEY,
     customer text COLLATE "C" NOT NULL CHECK (customer NOT IN ('', '*'))
   )`,
  `CREATE INDEX assembly_customer_by_customer ON assembly_customer (customer)`,
  `INSERT INTO assembly_customer (assembly, customer)
   SELECT assembly, customer FROM (SELECT DISTINCT ON (name) name AS assembly, body ->> 'customer' AS customer
     FROM setup_revision WHERE kind = 'assembly' ORDER BY name, revision DESC) newest
   WHERE customer NOT IN ('', '*')`,
  // By trigger, so that it is the same commit whoever writes the revision; with the owner's rights, so that the service
  // itself cannot hand an assembly to somebody without a revision that says so.
  `CREATE FUNCTION keep_assembly_customer() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER
   SET search_path = public, pg_temp AS $$
   BEGIN
     INSERT INTO assembly_customer (assembly, customer) VALUES (NEW.name, NEW.body ->> 'customer')
     ON CONFLICT (assembly) DO UPDATE SET customer = excluded.customer;
     RETURN NULL;
   END $$`,
  `CREATE TRIGGER setup_revision_names_customer AFTER INSERT ON setup_revision
   FOR EACH ROW WHEN (NEW.kind = 'assembly') EXECUTE FUNCTION keep_assembly_customer()`,
  // A device's row is found by the unit that carries it, as a unit's is by itself.
  `UPDATE subject SET assembly = state::json #>> '{place,assembly}', serial = state::json #>> '{place,serial}'
   WHERE kind = 'device' AND state IS NOT NULL AND state::json #>> '{place,assembly}' IS NOT NULL`,
  `CREATE INDEX subject_devices_aboard ON subject (assembly, serial) WHERE kind = 'device'`,
  // A function of its own keeps the list of assemblies out of the plans of statements: it is called at most once a
  // statement, and never where the house asks.
  `CREATE FUNCTION customers_assemblies() RETURNS text[] LANGUAGE sql STABLE AS $$
     SELECT array_agg(assembly) FROM public.assembly_customer
     WHERE customer = (SELECT current_setting('heatbook.customer', true))
   $$`,
  `CREATE FUNCTION own_assembly(expression text) RETURNS text LANGUAGE sql IMMUTABLE AS $$
     SELECT format('%s = ANY ((SELECT customers_assemblies())::text[])', expression)
   $$`,
  // Only the house writes: no policy lets a customer's connection add or change anything. The setting is read in a
  // sub-select so that it is read once a statement, not once a row; `house` is looked at first.
  `CREATE FUNCTION confine_table(target regclass, own text DEFAULT NULL) RETURNS void LANGUAGE plpgsql AS $$
   BEGIN
     EXECUTE format('ALTER TABLE %s ENABLE ROW LEVEL SECURITY', target);
     EXECUTE format('ALTER TABLE %s FORCE ROW LEVEL SECURITY', target);
     EXECUTE format('CREATE POLICY house ON %s USING ((SELECT current_setting(''heatbook.customer'', true)) = ''*'')', target);
     IF own IS NOT NULL THEN EXECUTE format('CREATE POLICY customer ON %s FOR SELECT USING (%s)', target, own); END IF;
   END $$`,
  // A condition with @> could tell of rows that are not shown, so that it is looked up in no index on a confined table.
  `DROP INDEX hold_by_cause`,
  `REVOKE ALL ON FUNCTION confine_table, own_assembly, keep_assembly_customer FROM PUBLIC`,
  `SELECT confine_table('assembly_customer', 'customer = (SELECT current_setting(''heatbook.customer'', true))')`,
  `SELECT confine_table('subject', own_assembly('assembly'))`,
  `SELECT confine_table('hold', own_assembly('assembly'))`,
  // No assembly may be called devices or stations, so that only ledgers of units are matched.
  ...['ledger_entry', 'trace_use', 'intake_event', 'intake_pending', 'clearance'].map(
    (table) => `SELECT confine_table('${table}', own_assembly('split_part(subject, ''/'', 1)'))`,
  ),
  `SELECT confine_table('intake_parked', 'EXISTS (SELECT FROM intake_event e WHERE e.number = intake_parked.number)')`,
  `SELECT confine_table('clearance_reach', 'EXISTS (SELECT FROM clearance c WHERE c.id = clearance_reach.clearance)')`,
  `SELECT confine_table('trace', 'EXISTS (SELECT FROM trace_use u WHERE u.trace = trace.name)')`,
  // Designs, limits and concessions of every customer, and who may come in: for the house alone.
  ...[
    'request_answer',
    'setup_revision',
    'access_key',
    'person',
    'person_change',
    'person_session',
    'password_attempt',
  ].map((table) => `SELECT confine_table('${table}')`),
  `DO $$ BEGIN
     IF EXISTS (SELECT FROM pg_roles WHERE rolname = 'heatbook_app') THEN
       GRANT SELECT ON assembly_customer TO heatbook_app;
     END IF;
   END $$`,
];
