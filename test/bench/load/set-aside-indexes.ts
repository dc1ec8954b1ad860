import pg from 'pg';

interface IndexRow {
  readonly name: string;
  /** Null where it is no constraint's. */
  readonly constraint: string | null;
  readonly made: string;
}

/**
 * Drops every index of a table, its primary key included, which many rows at once would have to keep in order.
 * @returns makes them again as they were
 */
export async function setAsideIndexes(client: pg.Client, table: string): Promise<() => Promise<void>> {
  const { rows } = await client.query<IndexRow>(
    `SELECT i.indexrelid::regclass::text AS name, c.conname AS constraint,
       CASE WHEN c.oid IS NULL THEN pg_get_indexdef(i.indexrelid)
         ELSE format('ALTER TABLE %s ADD CONSTRAINT %I %s', c.conrelid::regclass, c.conname, pg_get_constraintdef(c.oid))
       END AS made
     FROM pg_index i LEFT JOIN pg_constraint c ON c.conindid = i.indexrelid AND c.contype IN ('p', 'u')
     WHERE i.indrelid = $1::regclass`,
    [table],
  );
  for (const { name, constraint } of rows) {
    await client.query(
      constraint === null ? `DROP INDEX ${name}` : `ALTER TABLE ${table} DROP CONSTRAINT ${constraint}`,
    );
  }
  return async () => {
    for (const { made } of rows) await client.query(made);
  };
}
