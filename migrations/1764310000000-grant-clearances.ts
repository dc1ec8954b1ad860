import { MigrationInterface, QueryRunner } from 'typeorm';

/** Clearances, what each reaches, and the answers of requests that may come twice. */
export class GrantClearances1764310000000 implements MigrationInterface {
  readonly name = 'GrantClearances1764310000000';

  async up(queries: QueryRunner): Promise<void> {
    for (const statement of UP) await queries.query(statement);
  }

  async down(queries: QueryRunner): Promise<void> {
    await queries.query(`DROP TABLE request_answer, clearance_reach, clearance`);
  }
}

const UP = [
  `CREATE TABLE clearance (
     id uuid PRIMARY KEY,
     subject text COLLATE "C" NOT NULL,
     station text COLLATE "C" NOT NULL,
     operator text COLLATE "C" NOT NULL,
     granted_to text NOT NULL,
     granted_at timestamptz NOT NULL,
     expires_at timestamptz NOT NULL CHECK (expires_at > granted_at),
     returned_at timestamptz,
     returned_by text,
     lapsed_at timestamptz,
     used boolean NOT NULL,
     steps json NOT NULL,
     spends json NOT NULL,
     warnings json NOT NULL,
     rules bigint NOT NULL,
     CHECK ((returned_at IS NULL) = (returned_by IS NULL))
   )`,
  `CREATE INDEX clearance_by_age ON clearance (granted_at, id)`,
  `CREATE INDEX clearance_by_subject ON clearance (subject, granted_at, id)`,
  `CREATE INDEX clearance_running ON clearance (expires_at, id)
   WHERE NOT used AND returned_at IS NULL AND lapsed_at IS NULL`,
  // Ledgers of what it is for or reserves: a unit is found by the clearances of another that hold one of its devices.
  `CREATE TABLE clearance_reach (
     key text COLLATE "C" NOT NULL,
     clearance uuid NOT NULL REFERENCES clearance,
     PRIMARY KEY (key, clearance)
   )`,
  `CREATE TABLE request_answer (
     caller text NOT NULL,
     key text NOT NULL,
     body_hash text NOT NULL,
     answer json,
     at timestamptz NOT NULL DEFAULT now(),
     PRIMARY KEY (caller, key)
   )`,
  `CREATE INDEX request_answer_by_age ON request_answer (at)`,
  `DO $$ BEGIN
     IF EXISTS (SELECT FROM pg_roles WHERE rolname = 'heatbook_app') THEN
       GRANT SELECT, INSERT, UPDATE ON clearance TO heatbook_app;
       GRANT SELECT, INSERT ON clearance_reach TO heatbook_app;
       GRANT SELECT, INSERT, UPDATE, DELETE ON request_answer TO heatbook_app;
     END IF;
   END $$`,
];
