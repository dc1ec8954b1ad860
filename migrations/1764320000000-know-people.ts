import { MigrationInterface, QueryRunner } from 'typeorm';

/** People: their accounts, every change of them, who is signed in, and wrong passwords. */
export class KnowPeople1764320000000 implements MigrationInterface {
  readonly name = 'KnowPeople1764320000000';

  async up(queries: QueryRunner): Promise<void> {
    for (const statement of UP) await queries.query(statement);
  }

  async down(queries: QueryRunner): Promise<void> {
    await queries.query(`DROP TABLE password_attempt, person_session, person_change, person`);
  }
}

const UP = [
  `CREATE TABLE person (
     name text COLLATE "C" PRIMARY KEY,
     printed_name text NOT NULL,
     roles text[] NOT NULL CHECK (cardinality(roles) > 0 AND NOT 'station' = ANY (roles)),
     customer text,
     disabled boolean NOT NULL,
     password_hash text NOT NULL CHECK (starts_with(password_hash, '$argon2id$')),
     revision integer NOT NULL CHECK (revision > 0),
     created_at timestamptz NOT NULL,
     changed_at timestamptz NOT NULL,
     CONSTRAINT person_is_of_one_house CHECK (
       ('customer' = ANY (roles)) = (customer IS NOT NULL) AND (customer IS NULL OR cardinality(roles) = 1))
   )`,
  `CREATE TABLE person_change (
     person text COLLATE "C" NOT NULL REFERENCES person,
     revision integer NOT NULL,
     what text NOT NULL,
     account json NOT NULL,
     by text COLLATE "C" NOT NULL,
     at timestamptz NOT NULL,
     PRIMARY KEY (person, revision)
   )`,
  `CREATE TRIGGER person_change_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON person_change
     FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()`,
  `CREATE TABLE person_session (
     token_hash text PRIMARY KEY,
     person text COLLATE "C" NOT NULL REFERENCES person,
     started_at timestamptz NOT NULL,
     seen_at timestamptz NOT NULL
   )`,
  `CREATE INDEX person_session_by_person ON person_session (person, started_at)`,
  // By whatever name was tried: it tells nobody which accounts there are.
  `CREATE TABLE password_attempt (
     name text COLLATE "C" PRIMARY KEY,
     failures integer NOT NULL CHECK (failures > 0),
     last_at timestamptz NOT NULL
   )`,
  `CREATE INDEX password_attempt_by_age ON password_attempt (last_at)`,
  `DO $$ BEGIN
     IF EXISTS (SELECT FROM pg_roles WHERE rolname = 'heatbook_app') THEN
       GRANT SELECT, INSERT ON person_change TO heatbook_app;
       GRANT SELECT, INSERT, UPDATE ON person TO heatbook_app;
       GRANT SELECT, INSERT, UPDATE, DELETE ON person_session, password_attempt TO heatbook_app;
     END IF;
   END $$`,
];
