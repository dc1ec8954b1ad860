import pg from 'pg';

/** What a book takes on disk, bytes. */
export interface BookSize {
  /** Each table of the product with its indexes and long values, by name. */
  readonly tables: ReadonlyMap<string, number>;
  /** Written to the log of the server since it was made, by all databases. */
  readonly log: number;
}

/** What tables are for, and how their names begin; the first that fits. */
const GROUPS: readonly (readonly [name: string, begins: RegExp])[] = [
  ['inbox', /^intake_/],
  ['ledgers', /^ledger_entry$/],
  ['subjects', /^subject$/],
  ['log', /^log_/],
  ['marks', /^(entry_mark|mark_group)$/],
  ['changes', /^change_/],
  ['others', /^/],
];

/** Has the server write out what it holds first, so that what a book was measured after never weighs on what comes next. */
export async function bookSize(client: pg.Client): Promise<BookSize> {
  await client.query('CHECKPOINT');
  const { rows } = await client.query<{ name: string; bytes: string }>(
    `SELECT relname AS name, pg_total_relation_size(oid) AS bytes FROM pg_class
     WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace ORDER BY relname`,
  );
  const { rows: at } = await client.query<{ bytes: string }>(`SELECT pg_current_wal_lsn() - '0/0'::pg_lsn AS bytes`);
  return { tables: new Map(rows.map(({ name, bytes }) => [name, Number(bytes)])), log: Number(at[0]?.bytes) };
}

/** The sizes of tables summed up by what they are for, all groups always, and in the same order. */
export function bytesByGroup(tables: ReadonlyMap<string, number>): ReadonlyMap<string, number> {
  const groups = new Map(GROUPS.map(([name]): [string, number] => [name, 0]));
  for (const [table, bytes] of tables) {
    const name = GROUPS.find(([, begins]) => begins.test(table))?.[0] ?? '';
    groups.set(name, (groups.get(name) ?? 0) + bytes);
  }
  return groups;
}

/** By how much tables have grown, the one that has most first; without those that have not. */
export function grownTables(before: BookSize, after: BookSize): readonly (readonly [table: string, bytes: number])[] {
  return [...after.tables]
    .map(([table, bytes]) => [table, bytes - (before.tables.get(table) ?? 0)] as const)
    .filter(([, bytes]) => bytes !== 0)
    .sort(([, a], [, b]) => b - a);
}
