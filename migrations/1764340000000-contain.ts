import { MigrationInterface, QueryRunner } from 'typeorm';

/** Finding entries by what may come under suspicion, and containments with what they hold. */
export class Contain1764340000000 implements MigrationInterface {
  readonly name = 'Contain1764340000000';

  async up(queries: QueryRunner): Promise<void> {
    for (const statement of UP) await queries.query(statement);
  }

  async down(queries: QueryRunner): Promise<void> {
    await queries.query(`DROP TABLE containment_subject, containment, entry_mark`);
    await queries.query(`ALTER TABLE ledger_entry DROP COLUMN happened_at`);
  }
}

/** Effects that say of which part and lot a device is. */
const TELLING = `? (@.kind == "device-opened" || @.kind == "device-described")`;

const UP = [
  `ALTER TABLE ledger_entry ADD COLUMN happened_at timestamptz`,
  // Adding to the index costs next to nothing, and entries come nearly in the order of what they tell of.
  `CREATE INDEX ledger_entry_by_time ON ledger_entry USING brin (happened_at)`,
  // A table with an ordinary index rather than an array with an inverted one: below row-level security only comparisons
  // that cannot leak are looked up in an index, and an interval of one mark is one range of this one.
  `CREATE TABLE entry_mark (
     mark text COLLATE "C" NOT NULL,
     happened_at timestamptz NOT NULL,
     subject text COLLATE "C" NOT NULL,
     seq integer NOT NULL,
     PRIMARY KEY (mark, happened_at, subject, seq)
   )`,
  // Entries from before this migration. Times are cut off after the microsecond, as the service does.
  `ALTER TABLE ledger_entry DISABLE TRIGGER ledger_entry_append_only`,
  `UPDATE ledger_entry
   SET happened_at = regexp_replace(bytes::json ->> 'time', '(\\.[0-9]{6})[0-9]+', '\\1')::timestamptz
   WHERE event_id IS NOT NULL AND type <> 'heatbook.entry.annulled.v1'`,
  `ALTER TABLE ledger_entry ENABLE TRIGGER ledger_entry_append_only`,
  `INSERT INTO entry_mark (mark, happened_at, subject, seq)
   SELECT DISTINCT m.mark, coalesce(e.happened_at, '-infinity'), e.subject, e.seq
   FROM (SELECT subject, seq, source, happened_at, bytes::jsonb AS entry, bytes::jsonb -> 'data' AS data
     FROM ledger_entry WHERE happened_at IS NOT NULL) e
   CROSS JOIN LATERAL (
     VALUES ('station ' || substr(e.source, length('/stations/') + 1)),
       ('operator ' || (e.entry #>> '{actor,operator}')),
       ('profile ' || (e.data #>> '{profile,name}') || '@' || (e.data #>> '{profile,revision}')),
       ('alloy ' || (e.data ->> 'solderAlloy')), ('alloy ' || (e.data ->> 'pasteAlloy')),
       ('alloy ' || (e.data ->> 'ballAlloy')),
       ('device-lot ' || (e.data ->> 'lot')), ('part ' || (e.data ->> 'part')),
       ('device ' || (e.data ->> 'device')),
       ('device ' || (e.data #>> '{target,device}'))
     UNION ALL SELECT 'lot ' || (lot #>> '{}') FROM jsonb_path_query(e.data, '$.lots.*') lot
     UNION ALL SELECT 'device ' || (named ->> 'device') FROM jsonb_path_query(e.data, '$.devices[*]') named
     UNION ALL SELECT unnest(ARRAY['part ' || (told ->> 'part'), 'device-lot ' || (told ->> 'lot')])
       FROM jsonb_path_query(e.entry, '$.effects[*] ${TELLING}') told
   ) m (mark)
   WHERE m.mark IS NOT NULL AND m.mark <> 'device ' || substr(e.subject, length('devices/') + 1)`,
  `INSERT INTO entry_mark (mark, happened_at, subject, seq)
   SELECT DISTINCT m.mark, timestamptz '-infinity', e.subject, e.seq
   FROM (SELECT subject, seq, bytes::jsonb AS entry FROM ledger_entry WHERE type = 'heatbook.entry.rejudged.v1') e
   CROSS JOIN LATERAL (
     SELECT unnest(ARRAY['part ' || (told ->> 'part'), 'device-lot ' || (told ->> 'lot')])
     FROM jsonb_path_query(e.entry, '$.data.changes[*].effects[*] ${TELLING}') told
   ) m (mark)
   WHERE m.mark IS NOT NULL`,
  `CREATE TRIGGER entry_mark_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON entry_mark
   FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()`,
  `CREATE TABLE containment (
     id uuid PRIMARY KEY,
     cause json NOT NULL,
     suspect_from text COLLATE "C" NOT NULL,
     suspect_to text COLLATE "C" NOT NULL,
     hold_cause boolean NOT NULL,
     cause_holds json NOT NULL,
     state text NOT NULL CHECK (state IN ('finding', 'holding', 'done', 'failed')),
     rounds json NOT NULL,
     found integer,
     held integer NOT NULL,
     attempts smallint NOT NULL,
     failure text,
     requested_at timestamptz NOT NULL,
     seen_at timestamptz NOT NULL,
     finished_at timestamptz,
     CHECK (suspect_from < suspect_to)
   )`,
  `CREATE INDEX containment_by_age ON containment (requested_at, id)`,
  `CREATE INDEX containment_under_way ON containment (seen_at) WHERE state IN ('finding', 'holding')`,
  `CREATE TABLE containment_subject (
     containment uuid NOT NULL REFERENCES containment,
     key text COLLATE "C" NOT NULL,
     hold uuid NOT NULL REFERENCES hold,
     touches integer NOT NULL,
     body json NOT NULL,
     PRIMARY KEY (containment, key)
   )`,
  // They tell of every customer's units: for the house alone.
  ...['entry_mark', 'containment', 'containment_subject'].map((table) => `SELECT confine_table('${table}')`),
  `DO $$ BEGIN
     IF EXISTS (SELECT FROM pg_roles WHERE rolname = 'heatbook_app') THEN
       GRANT SELECT, INSERT ON entry_mark TO heatbook_app;
       GRANT SELECT, INSERT, UPDATE ON containment, containment_subject TO heatbook_app;
     END IF;
   END $$`,
];
