/** That a station was heard: an event of it was accepted. */
export interface StationContact {
  readonly station: string;
  /** When it was accepted, RFC 3339 UTC. */
  readonly heardAt: string;
  /** When what it told of happened, RFC 3339 with offset. */
  readonly eventTime: string;
}

/** What lies with a station now. */
export interface StationStanding {
  readonly station: string;
  /** RFC 3339 UTC, ms; null where no contact was noted. */
  readonly lastHeardAt: string | null;
  /** The latest that it told of, RFC 3339 UTC, ms; null likewise. */
  readonly lastEventTime: string | null;
  /** Accepted events of it that wait to be judged, and RFC 3339 UTC of the oldest arrival among them. */
  readonly pending: number;
  readonly oldestPendingAt: string | null;
  readonly parked: number;
  /** Open holds whose cause came from it. */
  readonly openHolds: number;
}

/** What is known of stations besides their setup. It is beside the book: nothing is judged by it. */
export interface StationStore {
  /** Keeps for each station the latest that was ever told, in whatever order it is told. */
  heard(contacts: readonly StationContact[]): Promise<void>;
  /** One for each of these stations (at most 500), in their order, whether or not anything is known of it. */
  standings(stations: readonly string[]): Promise<readonly StationStanding[]>;
}
