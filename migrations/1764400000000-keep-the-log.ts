import { MigrationInterface, QueryRunner } from 'typeorm';

/** The site-wide log: every entry of every ledger as one leaf of a Merkle tree, in an order that is kept for ever. */
export class KeepTheLog1764400000000 implements MigrationInterface {
  readonly name = 'KeepTheLog1764400000000';

  async up(queries: QueryRunner): Promise<void> {
    for (const statement of UP) await queries.query(statement);
  }

  async down(queries: QueryRunner): Promise<void> {
    await queries.query(`DROP TRIGGER ledger_entry_tells_log ON ledger_entry`);
    await queries.query(`DROP FUNCTION tell_log`);
    await queries.query(`DROP TABLE ${TABLES.join(', ')}`);
  }
}

/** What is never changed once it is there. */
const KEPT = ['log_leaf', 'log_node', 'log_checkpoint', 'log_census_group', 'log_identity'];
const TABLES = [...KEPT, 'log_inbox', 'log_watch'];

const UP = [
  // What each statement wrote into ledgers, until it has its place in the log. One row for many entries: a fold of five
  // hundred events pays for one insert, and no counter is shared by transactions that are at work at the same time.
  `CREATE TABLE log_inbox (
     number bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
     subjects text[] NOT NULL,
     seqs integer[] NOT NULL,
     hashes text[] NOT NULL
   )`,
  // Numbered from 0, without a gap. The data of a leaf are the bytes of the entry's hash.
  `CREATE TABLE log_leaf (
     index bigint PRIMARY KEY CHECK (index >= 0),
     subject text COLLATE "C" NOT NULL,
     seq integer NOT NULL CHECK (seq > 0),
     hash bytea NOT NULL CHECK (octet_length(hash) = 32),
     UNIQUE (subject, seq)
   )`,
  // Hashes of perfect subtrees of 2^level leaves, for every fourth level only: see the decision on the log.
  `CREATE TABLE log_node (
     level smallint NOT NULL CHECK (level > 0 AND level % 4 = 0),
     index bigint NOT NULL CHECK (index >= 0),
     hash bytea NOT NULL CHECK (octet_length(hash) = 32),
     PRIMARY KEY (level, index)
   )`,
  `CREATE TABLE log_checkpoint (
     number bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
     size bigint NOT NULL,
     root bytea NOT NULL CHECK (octet_length(root) = 32),
     note text NOT NULL,
     at timestamptz NOT NULL
   )`,
  // Groups of the census over the log of that size: so that one ledger's place in it takes the ledgers of one group to show.
  `CREATE TABLE log_census_group (
     size bigint NOT NULL,
     name text COLLATE "C" NOT NULL,
     ledgers integer NOT NULL,
     entries bigint NOT NULL,
     root bytea NOT NULL CHECK (octet_length(root) = 32),
     PRIMARY KEY (size, name)
   )`,
  `CREATE TABLE log_identity (
     one boolean PRIMARY KEY DEFAULT true CHECK (one),
     origin text NOT NULL CHECK (origin <> '')
   )`,
  // What was last found of the log, by whom: null where nothing is wrong.
  `CREATE TABLE log_watch (
     watcher text PRIMARY KEY,
     at timestamptz NOT NULL,
     trouble text
   )`,
  ...KEPT.map(
    (table) =>
      `CREATE TRIGGER ${table}_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON ${table}
       FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()`,
  ),
  // With the owner's rights, so that the service itself cannot put into the inbox what is in no ledger.
  `CREATE FUNCTION tell_log() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
   BEGIN
     INSERT INTO log_inbox (subjects, seqs, hashes)
     SELECT array_agg(subject), array_agg(seq), array_agg(hash)
     FROM (SELECT subject, seq, hash FROM added ORDER BY seq) ordered HAVING count(*) > 0;
     RETURN NULL;
   END $$`,
  `REVOKE ALL ON FUNCTION tell_log FROM PUBLIC`,
  // Before what is there already is read: from here on nothing is added without the log being told.
  `CREATE TRIGGER ledger_entry_tells_log AFTER INSERT ON ledger_entry REFERENCING NEW TABLE AS added
   FOR EACH STATEMENT EXECUTE FUNCTION tell_log()`,
  // A ledger's entries stay in their order though the clock of one worker may have been behind another's.
  `INSERT INTO log_inbox (subjects, seqs, hashes)
   SELECT array_agg(subject ORDER BY place), array_agg(seq ORDER BY place), array_agg(hash ORDER BY place)
   FROM (SELECT subject, seq, hash, row_number() OVER (ORDER BY told_at, subject, seq) - 1 AS place
     FROM (SELECT subject, seq, hash, max(recorded_at) OVER (PARTITION BY subject ORDER BY seq) AS told_at
       FROM ledger_entry) entry) ordered
   GROUP BY place / 500 ORDER BY place / 500`,
  // They name every customer's boards: for the house alone.
  ...TABLES.map((table) => `SELECT confine_table('${table}')`),
  `DO $$ BEGIN
     IF EXISTS (SELECT FROM pg_roles WHERE rolname = 'heatbook_app') THEN
       GRANT SELECT, DELETE ON log_inbox TO heatbook_app;
       GRANT SELECT, INSERT ON ${KEPT.join(', ')} TO heatbook_app;
       GRANT SELECT, INSERT, UPDATE ON log_watch TO heatbook_app;
     END IF;
   END $$`,
];
