/** How many of each part there are. */
export interface Plant {
  /** Processes with a core each. */
  readonly apis: number;
  /** Processes with a core each. */
  readonly workers: number;
  /** Servers of Postgres, each with a book and a Redis of its own; units are spread over them by hash. */
  readonly databases: number;
  /** Of each of those servers. */
  readonly coresOfDatabase: number;
}

/** What comes. */
export interface Load {
  readonly eventsPerSecond: number;
  /** Events that come together, in one request, for one shard. */
  readonly burst: number;
}

/** As the product does it, for each book. */
export const SHARDS = 16;
export const MOST_EVENTS_A_FOLD = 500;
export const FOLDS_AT_ONCE = 4;
export const INSERTS_AT_ONCE = 2;
export const MOST_EVENTS_AN_INSERT = 1_000;

/** Common practice, from no source: what a rework station tells in an hour, and how much of it at a time. */
export const STATION = { eventsAnHour: 30, burst: 5 } as const;

export function loadOfStations(stations: number): Load {
  return { eventsPerSecond: (stations * STATION.eventsAnHour) / 3_600, burst: STATION.burst };
}
