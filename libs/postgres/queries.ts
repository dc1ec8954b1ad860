import pg from 'pg';

/** What reads need of Postgres: a pool, or something that sees less of the same tables. */
export interface Queries {
  query<R extends pg.QueryResultRow>(text: string, values?: unknown[]): Promise<pg.QueryResult<R>>;
}
