import { DataSource, IsNull } from 'typeorm';
import { IssuedKey, KeyStore, KeyHolder } from '../ledger/ports/key-store.js';
import { AccessKeyEntity } from './access-key.entity.js';

/** Keys in Postgres, by their hashes. */
export class PgKeyStore implements KeyStore {
  constructor(private readonly dataSource: DataSource) {}

  async add(key: IssuedKey, most: number): Promise<boolean> {
    return this.dataSource.transaction(async (manager) => {
      const { role, name } = key.principal;
      await manager.query(`SELECT pg_advisory_xact_lock(hashtext($1))`, [`heatbook keys ${role} ${name}`]);
      const live = await manager.countBy(AccessKeyEntity, { role, name, revokedAt: IsNull() });
      if (live >= most) return false;
      const { keyId, keyHash, issuedAt } = key;
      await manager.insert(AccessKeyEntity, {
        keyId,
        keyHash,
        role,
        name,
        issuedAt: new Date(issuedAt),
        revokedAt: null,
      });
      return true;
    });
  }

  async byHash(keyHash: string): Promise<IssuedKey | undefined> {
    const found = await this.keys.findOneBy({ keyHash, revokedAt: IsNull() });
    return found === null ? undefined : toIssued(found);
  }

  async live({ role, name }: KeyHolder): Promise<readonly IssuedKey[]> {
    const found = await this.keys.find({
      where: { role, name, revokedAt: IsNull() },
      order: { issuedAt: 'ASC', keyId: 'ASC' },
    });
    return found.map(toIssued);
  }

  async revoke({ role, name }: KeyHolder, keyId: string): Promise<boolean> {
    const done = await this.keys.update({ keyId, role, name, revokedAt: IsNull() }, { revokedAt: () => 'now()' });
    return done.affected === 1;
  }

  private get keys() {
    return this.dataSource.getRepository(AccessKeyEntity);
  }
}

function toIssued({ keyId, keyHash, role, name, issuedAt }: AccessKeyEntity): IssuedKey {
  const principal: KeyHolder = { role: role === 'admin' ? 'admin' : 'station', name };
  return { keyId, keyHash, principal, issuedAt: issuedAt.toISOString() };
}
