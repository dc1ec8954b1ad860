import { MigrationInterface, QueryRunner } from 'typeorm';

/** When each station was last heard, so that nobody has to look through its events for that. */
export class HearStations1764423000000 implements MigrationInterface {
  readonly name = 'HearStations1764423000000';

  async up(queries: QueryRunner): Promise<void> {
    for (const statement of UP) await queries.query(statement);
  }

  async down(queries: QueryRunner): Promise<void> {
    await queries.query(`DROP INDEX hold_open_by_station`);
    await queries.query(`DROP TABLE station_contact`);
  }
}

const UP = [
  // Rows are rewritten every few seconds and stay as few as there are stations: room to do so in place.
  `CREATE TABLE station_contact (
     station text COLLATE "C" PRIMARY KEY,
     heard_at timestamptz NOT NULL,
     event_time timestamptz NOT NULL
   ) WITH (fillfactor = 50)`,
  `SELECT confine_table('station_contact')`,
  // What was heard before there was such a table, from what is in the inbox anyway; the times of facts are in the ledgers.
  `INSERT INTO station_contact (station, heard_at, event_time)
   SELECT substr(e.source, length('/stations/') + 1), max(e.received_at), coalesce(max(l.happened_at), max(e.received_at))
   FROM intake_event e LEFT JOIN ledger_entry l ON l.source = e.source AND l.event_id = e.event_id
   WHERE e.source ^@ '/stations/' GROUP BY e.source`,
  `CREATE INDEX hold_open_by_station ON hold (station) WHERE state = 'open' AND station IS NOT NULL`,
  `DO $$ BEGIN
     IF EXISTS (SELECT FROM pg_roles WHERE rolname = 'heatbook_app') THEN
       GRANT SELECT, INSERT, UPDATE ON station_contact TO heatbook_app;
     END IF;
   END $$`,
];
