import { MigrationInterface, QueryRunner } from 'typeorm';

/** The first schema: inbox, subjects, ledger, holds, setup, keys. Plain SQL, so that what runs is what is read. */
export class OpenTheBook1764000000000 implements MigrationInterface {
  readonly name = 'OpenTheBook1764000000000';

  async up(queries: QueryRunner): Promise<void> {
    for (const statement of UP) await queries.query(statement);
  }

  async down(queries: QueryRunner): Promise<void> {
    await queries.query(
      `DROP TABLE access_key, setup_revision, hold, ledger_entry, subject, intake_parked, intake_pending, intake_event`,
    );
    await queries.query(`DROP FUNCTION refuse_change`);
  }
}

const UP = [
  // Names are ASCII and compare by code unit everywhere, whatever the database's locale: hence COLLATE "C".
  `CREATE TABLE intake_event (
     number bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
     source text COLLATE "C" NOT NULL,
     event_id text COLLATE "C" NOT NULL,
     type text NOT NULL,
     subject text COLLATE "C" NOT NULL,
     content_hash text NOT NULL,
     payload text NOT NULL,
     received_at timestamptz NOT NULL DEFAULT now(),
     UNIQUE (source, event_id)
   )`,
  // Narrow and short-lived, so that folding deletes small rows and never rewrites a payload.
  `CREATE TABLE intake_pending (
     number bigint PRIMARY KEY REFERENCES intake_event,
     shard smallint NOT NULL,
     subject text COLLATE "C" NOT NULL,
     attempts smallint NOT NULL DEFAULT 0,
     retried boolean NOT NULL DEFAULT false,
     due_at timestamptz NOT NULL DEFAULT now(),
     error text
   )`,
  `CREATE INDEX intake_pending_by_shard ON intake_pending (shard, number)`,
  // A unit's fold takes the events of the devices it names along; nothing else is looked up by subject.
  `CREATE INDEX intake_pending_of_devices ON intake_pending (subject) WHERE subject ^@ 'devices/'`,
  `CREATE TABLE intake_parked (
     number bigint PRIMARY KEY REFERENCES intake_event,
     reason json NOT NULL,
     parked_at timestamptz NOT NULL DEFAULT now()
   )`,
  `CREATE TABLE subject (
     key text COLLATE "C" PRIMARY KEY,
     kind text,
     assembly text COLLATE "C",
     serial text COLLATE "C",
     status text,
     head_seq integer NOT NULL DEFAULT 0,
     head_hash text NOT NULL,
     state text,
     changed_at timestamptz NOT NULL DEFAULT now()
   )`,
  `CREATE INDEX subject_units ON subject (key) WHERE kind = 'unit'`,
  `CREATE INDEX subject_units_by_serial ON subject (serial, key) WHERE kind = 'unit'`,
  `CREATE TABLE ledger_entry (
     subject text COLLATE "C" NOT NULL,
     seq integer NOT NULL CHECK (seq > 0),
     hash text NOT NULL,
     type text NOT NULL,
     source text COLLATE "C",
     event_id text COLLATE "C",
     bytes text NOT NULL,
     recorded_at timestamptz NOT NULL,
     PRIMARY KEY (subject, seq)
   )`,
  `CREATE INDEX ledger_entry_by_event ON ledger_entry (source, event_id) WHERE event_id IS NOT NULL`,
  `CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
   BEGIN
     RAISE EXCEPTION '% is append-only: % refused', TG_TABLE_NAME, TG_OP USING ERRCODE = 'restrict_violation';
   END $$`,
  `CREATE TABLE hold (
     id uuid PRIMARY KEY,
     state text NOT NULL,
     reason text NOT NULL,
     subject json NOT NULL,
     stream text COLLATE "C" NOT NULL,
     unit_key text COLLATE "C",
     assembly text COLLATE "C",
     serial text COLLATE "C",
     device text COLLATE "C",
     customer text,
     station text COLLATE "C",
     operator text COLLATE "C",
     raised_at timestamptz NOT NULL,
     raised_by text,
     causes jsonb NOT NULL,
     evidence json NOT NULL,
     remedy text NOT NULL,
     touched boolean NOT NULL,
     cause_gone boolean NOT NULL,
     release json
   )`,
  `CREATE INDEX hold_by_stream ON hold (stream)`,
  `CREATE INDEX hold_by_unit ON hold (unit_key)`,
  `CREATE INDEX hold_by_age ON hold (raised_at, id)`,
  `CREATE INDEX hold_open_by_age ON hold (raised_at, id) WHERE state = 'open'`,
  `CREATE INDEX hold_by_cause ON hold USING gin (causes jsonb_path_ops)`,
  `CREATE TABLE setup_revision (
     version bigint PRIMARY KEY,
     kind text NOT NULL,
     name text COLLATE "C" NOT NULL,
     revision integer NOT NULL,
     body jsonb NOT NULL,
     by text NOT NULL,
     at timestamptz NOT NULL DEFAULT now(),
     UNIQUE (kind, name, revision)
   )`,
  ...['ledger_entry', 'intake_event', 'setup_revision'].map(
    (table) =>
      `CREATE TRIGGER ${table}_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON ${table}
       FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()`,
  ),
  `CREATE TABLE access_key (
     key_id text PRIMARY KEY,
     key_hash text NOT NULL UNIQUE,
     role text NOT NULL,
     name text COLLATE "C" NOT NULL,
     issued_at timestamptz NOT NULL,
     revoked_at timestamptz
   )`,
  `CREATE INDEX access_key_live ON access_key (role, name) WHERE revoked_at IS NULL`,
  // The service works under a role that may add to the book but not rewrite it. Where the migrating role may not make
  // roles, the triggers alone refuse.
  `DO $$ BEGIN
     IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = 'heatbook_app') THEN CREATE ROLE heatbook_app NOLOGIN; END IF;
     EXECUTE format('GRANT heatbook_app TO %I', current_user);
   EXCEPTION
     WHEN insufficient_privilege THEN RAISE NOTICE 'role heatbook_app was not made: no privilege';
     WHEN duplicate_object OR unique_violation THEN NULL;
   END $$`,
  `DO $$ BEGIN
     IF EXISTS (SELECT FROM pg_roles WHERE rolname = 'heatbook_app') THEN
       GRANT SELECT, INSERT ON ledger_entry, intake_event, setup_revision TO heatbook_app;
       GRANT SELECT, INSERT, UPDATE ON subject, hold, access_key TO heatbook_app;
       GRANT SELECT, INSERT, UPDATE, DELETE ON intake_pending, intake_parked TO heatbook_app;
     END IF;
   END $$`,
];
