import { MigrationInterface, QueryRunner } from 'typeorm';

/** Archives of many units' histories: what was asked for, how far it is, and the bytes that are made of it. */
export class MakeArchives1764410000000 implements MigrationInterface {
  readonly name = 'MakeArchives1764410000000';

  async up(queries: QueryRunner): Promise<void> {
    for (const statement of UP) await queries.query(statement);
  }

  async down(queries: QueryRunner): Promise<void> {
    await queries.query(`DROP TABLE archive_chunk, archive_part, archive_item, archive`);
  }
}

const UP = [
  // `claim` counts who has taken it on: what is written under an older one is refused.
  `CREATE TABLE archive (
     id uuid PRIMARY KEY,
     owner text COLLATE "C" NOT NULL,
     owner_via text COLLATE "C" NOT NULL CHECK (owner_via IN ('key', 'session')),
     customer text COLLATE "C",
     formats json NOT NULL,
     since json NOT NULL,
     state text NOT NULL CHECK (state IN ('waiting', 'running', 'done', 'failed', 'cancelled')),
     wanted integer NOT NULL,
     done integer NOT NULL,
     missing integer NOT NULL,
     entries bigint NOT NULL,
     parts integer NOT NULL,
     content_bytes bigint NOT NULL,
     bytes bigint NOT NULL,
     manifest_hash text COLLATE "C",
     failure text,
     attempts smallint NOT NULL,
     claim integer NOT NULL DEFAULT 0,
     requested_at timestamptz NOT NULL,
     seen_at timestamptz NOT NULL,
     finished_at timestamptz,
     expires_at timestamptz,
     removed boolean NOT NULL DEFAULT false,
     cleared boolean NOT NULL DEFAULT false,
     CHECK ((state = 'done') = (manifest_hash IS NOT NULL)),
     CHECK ((finished_at IS NULL) = (expires_at IS NULL))
   )`,
  `CREATE INDEX archive_by_age ON archive (requested_at, id)`,
  `CREATE TABLE archive_item (
     archive uuid NOT NULL REFERENCES archive,
     place integer NOT NULL,
     assembly text COLLATE "C" NOT NULL,
     serial text COLLATE "C" NOT NULL,
     path text COLLATE "C" NOT NULL,
     outcome text CHECK (outcome IN ('written', 'missing')),
     count integer,
     head_hash text COLLATE "C",
     PRIMARY KEY (archive, place)
   )`,
  // `folded` is the name in small letters: two that a file system may take for one cannot both be there.
  `CREATE TABLE archive_part (
     archive uuid NOT NULL REFERENCES archive,
     number integer NOT NULL,
     name text COLLATE "C" NOT NULL,
     folded text COLLATE "C" NOT NULL,
     crc32 bigint NOT NULL,
     bytes bigint NOT NULL,
     packed_bytes bigint NOT NULL,
     header_at bigint NOT NULL,
     sha256 text COLLATE "C" NOT NULL,
     PRIMARY KEY (archive, number),
     UNIQUE (archive, folded),
     UNIQUE (archive, header_at)
   )`,
  // Without a reference to its part: what a part is made of is kept before the part is entered.
  `CREATE TABLE archive_chunk (
     archive uuid NOT NULL REFERENCES archive,
     part integer NOT NULL,
     number integer NOT NULL,
     bytes bytea NOT NULL,
     PRIMARY KEY (archive, part, number)
   )`,
  // It is deflated already.
  `ALTER TABLE archive_chunk ALTER COLUMN bytes SET STORAGE EXTERNAL`,
  // The house hands them out: what a customer asked for was read with that customer's eyes.
  ...['archive', 'archive_item', 'archive_part', 'archive_chunk'].map((table) => `SELECT confine_table('${table}')`),
  `DO $$ BEGIN
     IF EXISTS (SELECT FROM pg_roles WHERE rolname = 'heatbook_app') THEN
       GRANT SELECT, INSERT, UPDATE, DELETE ON archive, archive_item, archive_part, archive_chunk TO heatbook_app;
     END IF;
   END $$`,
];
