import pg from 'pg';
import { Person } from '../ledger/ports/person-store.js';
import { MOST_SESSIONS, Session, SessionStore } from '../ledger/ports/session-store.js';
import { inTransaction } from './in-transaction.js';
import { PEOPLE_NAMED, PERSON_COLUMNS, PersonRow, toPerson } from './person-row.js';

interface SessionRow extends PersonRow {
  readonly started_at: Date;
  readonly seen_at: Date;
}

/** Sessions in Postgres, by the hash of their token. */
export class PgSessionStore implements SessionStore {
  constructor(private readonly pool: pg.Pool) {}

  begin({ tokenHash, person, startedAt, seenAt }: Session, revision: number): Promise<boolean> {
    return inTransaction(this.pool, async (client) => {
      // Whoever changes the person waits for us and then ends this session too, or we wait and see another revision.
      const { rowCount } = await client.query(
        `INSERT INTO person_session (token_hash, person, started_at, seen_at)
         SELECT $1, name, $3, $4 FROM person WHERE name = $2 AND revision = $5 FOR NO KEY UPDATE`,
        [tokenHash, person, startedAt, seenAt, revision],
      );
      if (rowCount !== 1) return false;
      await client.query(
        `DELETE FROM person_session WHERE token_hash IN (SELECT token_hash FROM person_session WHERE person = $1
           ORDER BY started_at DESC, token_hash OFFSET $2)`,
        [person, MOST_SESSIONS],
      );
      return true;
    });
  }

  async find(tokenHash: string): Promise<{ session: Session; person: Person } | undefined> {
    const { rows } = await this.pool.query<SessionRow>(
      `SELECT s.started_at, s.seen_at, ${PERSON_COLUMNS} FROM ${PEOPLE_NAMED} JOIN person_session s ON s.person = p.name
       WHERE s.token_hash = $1`,
      [tokenHash],
    );
    const [row] = rows;
    if (row === undefined) return undefined;
    const [startedAt, seenAt] = [row.started_at.toISOString(), row.seen_at.toISOString()];
    return { session: { tokenHash, person: row.name, startedAt, seenAt }, person: toPerson(row) };
  }

  async touch(tokenHash: string, at: string): Promise<void> {
    await this.pool.query(`UPDATE person_session SET seen_at = $2 WHERE token_hash = $1 AND seen_at < $2`, [
      tokenHash,
      at,
    ]);
  }

  async end(tokenHash: string): Promise<void> {
    await this.pool.query(`DELETE FROM person_session WHERE token_hash = $1`, [tokenHash]);
  }
}
