import pg from 'pg';
import { StationContact, StationStanding, StationStore } from '../ledger/ports/station-store.js';
import { rowsOf } from './bulk-rows.js';

/** What is known of stations besides their setup, in Postgres. */
export class PgStationStore implements StationStore {
  constructor(private readonly pool: pg.Pool) {}

  async heard(contacts: readonly StationContact[]): Promise<void> {
    if (contacts.length === 0) return;
    await this.pool.query(
      // In the order of the key, so that two processes wait for each other and never in a circle.
      `INSERT INTO station_contact AS c (station, heard_at, event_time)
       SELECT station, max("heardAt"), max("eventTime")
       FROM json_to_recordset($1::json) AS n(station text COLLATE "C", "heardAt" timestamptz, "eventTime" timestamptz)
       GROUP BY station ORDER BY station
       ON CONFLICT (station) DO UPDATE SET heard_at = greatest(c.heard_at, excluded.heard_at),
         event_time = greatest(c.event_time, excluded.event_time)`,
      [rowsOf(contacts)],
    );
  }

  async standings(stations: readonly string[]): Promise<readonly StationStanding[]> {
    const { rows } = await this.pool.query<StandingRow>(
      `WITH asked AS (
         SELECT station, n FROM unnest($1::text[]) WITH ORDINALITY AS t(station, n)
       ), waiting AS (
         SELECT e.source, count(*)::integer AS pending, min(e.received_at) AS oldest
         FROM intake_pending JOIN intake_event e USING (number) GROUP BY e.source
       ), put_aside AS (
         SELECT e.source, count(*)::integer AS parked FROM intake_parked JOIN intake_event e USING (number)
         GROUP BY e.source
       ), held AS (
         SELECT station, count(*)::integer AS holds FROM hold
         WHERE state = 'open' AND station = ANY ($1::text[]) GROUP BY station
       )
       SELECT a.station, c.heard_at, c.event_time, w.pending, w.oldest, p.parked, h.holds
       FROM asked a
       LEFT JOIN station_contact c ON c.station = a.station
       LEFT JOIN waiting w ON w.source = '/stations/' || a.station
       LEFT JOIN put_aside p ON p.source = '/stations/' || a.station
       LEFT JOIN held h ON h.station = a.station
       ORDER BY a.n`,
      [stations],
    );
    return rows.map(toStanding);
  }
}

interface StandingRow {
  readonly station: string;
  readonly heard_at: Date | null;
  readonly event_time: Date | null;
  readonly pending: number | null;
  readonly oldest: Date | null;
  readonly parked: number | null;
  readonly holds: number | null;
}

function toStanding({ station, heard_at, event_time, pending, oldest, parked, holds }: StandingRow): StationStanding {
  return {
    station,
    lastHeardAt: heard_at?.toISOString() ?? null,
    lastEventTime: event_time?.toISOString() ?? null,
    pending: pending ?? 0,
    oldestPendingAt: oldest?.toISOString() ?? null,
    parked: parked ?? 0,
    openHolds: holds ?? 0,
  };
}
