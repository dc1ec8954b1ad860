import { DataSource, EntityManager, MoreThan } from 'typeorm';
import { SetupData, SetupKind } from '../domain/setup/setup-data.js';
import { SetupStore, StoredRevision } from '../ledger/ports/setup-store.js';
import { SETUP_LOCK, toStored } from './enter-revision.js';
import { SetupRevisionEntity } from './setup-revision.entity.js';

/** Setup data in Postgres. Revisions are written one at a time, so that versions become visible in order. */
export class PgSetupStore implements SetupStore {
  constructor(private readonly dataSource: DataSource) {}

  async revise<K extends SetupKind>(kind: K, name: string, body: SetupData[K], by: string): Promise<StoredRevision> {
    return this.dataSource.transaction(async (manager) => {
      await manager.query(SETUP_LOCK);
      const newest = await newestOf(manager, kind, name);
      if (newest !== undefined && (await sameBody(manager, newest.version, body))) return toStored(newest);
      const [row] = await manager.query<SetupRevisionEntity[]>(
        `INSERT INTO setup_revision (version, kind, name, revision, body, by)
         VALUES ((SELECT coalesce(max(version), 0) + 1 FROM setup_revision), $1, $2, $3, $4, $5) RETURNING *`,
        [kind, name, (newest?.revision ?? 0) + 1, JSON.stringify(body), by],
      );
      if (row === undefined) throw new Error('no revision was written');
      return toStored(row);
    });
  }

  async revisionsAfter(version: number): Promise<readonly StoredRevision[]> {
    const rows = await this.dataSource.getRepository(SetupRevisionEntity).find({
      where: { version: MoreThan(String(version)) },
      order: { version: 'ASC' },
    });
    return rows.map(toStored);
  }
}

async function newestOf(manager: EntityManager, kind: string, name: string): Promise<SetupRevisionEntity | undefined> {
  const found = await manager.findOne(SetupRevisionEntity, { where: { kind, name }, order: { revision: 'DESC' } });
  return found ?? undefined;
}

/** Compared by Postgres as jsonb: the order of keys does not matter. */
async function sameBody(manager: EntityManager, version: string, body: object): Promise<boolean> {
  const rows = await manager.query<{ same: boolean }[]>(
    `SELECT body = $2::jsonb AS same FROM setup_revision WHERE version = $1`,
    [version, JSON.stringify(body)],
  );
  return rows[0]?.same === true;
}
