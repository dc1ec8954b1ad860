import pg from 'pg';
import { ChangeNote, ChangePlace, ChangeStore } from '../ledger/ports/change-store.js';

/** Notes of what was committed, in Postgres; triggers write them. */
export class PgChangeStore implements ChangeStore {
  constructor(private readonly pool: pg.Pool) {}

  async now(): Promise<ChangePlace> {
    const { rows } = await this.pool.query<{ transaction: string }>(
      `SELECT pg_snapshot_xmin(pg_current_snapshot())::text AS transaction`,
    );
    return { transaction: rows[0]?.transaction ?? '0', number: '0' };
  }

  async after({ transaction, number }: ChangePlace, limit: number): Promise<readonly ChangeNote[]> {
    const { rows } = await this.pool.query<NoteRow>(
      // What a transaction wrote is read once every one before it has ended, in whatever order they commit.
      `SELECT transaction::text, number::text, subjects, seqs, holds, clearances FROM (
         SELECT *, row_number() OVER w AS place,
           sum(cardinality(subjects) + cardinality(holds) + cardinality(clearances)) OVER w AS changes
         FROM (SELECT * FROM change_note
           WHERE (transaction, number) > ($1::text::xid8, $2::bigint)
             AND transaction < pg_snapshot_xmin(pg_current_snapshot())
           ORDER BY transaction, number LIMIT $3) oldest
         WINDOW w AS (ORDER BY transaction, number)) counted
       WHERE place = 1 OR changes <= $3 ORDER BY counted.transaction, counted.number`,
      [transaction, number, limit],
    );
    return rows.map(toNote);
  }

  async forget(before: string): Promise<void> {
    await this.pool.query(`DELETE FROM change_note WHERE at < $1`, [before]);
  }
}

interface NoteRow {
  readonly transaction: string;
  readonly number: string;
  readonly subjects: readonly string[];
  readonly seqs: readonly number[];
  readonly holds: readonly string[];
  readonly clearances: readonly string[];
}

function toNote({ transaction, number, subjects, seqs, holds, clearances }: NoteRow): ChangeNote {
  const entries = subjects.flatMap((subject, n) => {
    const seq = seqs[n];
    return seq === undefined ? [] : [{ subject, seq }];
  });
  return { place: { transaction, number }, entries, holds, clearances };
}
