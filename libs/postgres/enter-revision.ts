import { SETUP_KINDS, SetupData, SetupKind } from '../domain/setup/setup-data.js';
import { StoredRevision } from '../ledger/ports/setup-store.js';
import { Queries } from './queries.js';

/** Taken by whoever adds a revision, until it is committed, so that versions become visible in order. */
export const SETUP_LOCK = `SELECT pg_advisory_xact_lock(hashtext('heatbook setup'))`;

interface RevisionRow {
  /** bigint: arrives as text. */
  readonly version: string;
  readonly kind: string;
  readonly name: string;
  readonly revision: number;
  readonly body: object;
  readonly by: string;
  readonly at: Date;
}

/** Adds a revision within a transaction that is open, unless the newest one has the same body: that is answered then. */
export async function enterRevision<K extends SetupKind>(
  client: Queries,
  kind: K,
  name: string,
  body: SetupData[K],
  by: string,
): Promise<StoredRevision> {
  await client.query(SETUP_LOCK);
  const values = [kind, name, JSON.stringify(body)];
  const { rows: newest } = await client.query<RevisionRow & { same: boolean }>(
    `SELECT *, body = $3::jsonb AS same FROM setup_revision WHERE kind = $1 AND name = $2 ORDER BY revision DESC LIMIT 1`,
    values,
  );
  const [known] = newest;
  if (known?.same === true) return toStored(known);
  const { rows } = await client.query<RevisionRow>(
    `INSERT INTO setup_revision (version, kind, name, revision, body, by)
     VALUES ((SELECT coalesce(max(version), 0) + 1 FROM setup_revision), $1, $2, $4, $3, $5) RETURNING *`,
    [...values, (known?.revision ?? 0) + 1, by],
  );
  const [entered] = rows;
  if (entered === undefined) throw new Error('no revision was written');
  return toStored(entered);
}

/** A row as callers know it. */
export function toStored(row: RevisionRow): StoredRevision {
  const kind = SETUP_KINDS.find((known) => known === row.kind);
  if (kind === undefined) throw new Error(`unknown setup kind ${row.kind} at version ${row.version}`);
  const { name, revision, body, by, at } = row;
  // The body was checked against its kind before it was written.
  return { kind, name, revision, version: Number(row.version), body, by, at: at.toISOString() } as StoredRevision;
}
