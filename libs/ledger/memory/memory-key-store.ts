import { IssuedKey, KeyStore, KeyHolder } from '../ports/key-store.js';
import { MemoryTables } from './memory-tables.js';
import { roundTrip } from './round-trip.js';

/** Issued keys in the memory of this process. */
export class MemoryKeyStore implements KeyStore {
  readonly #tables: MemoryTables;

  constructor(tables: MemoryTables) {
    this.#tables = tables;
  }

  async add(key: IssuedKey, most: number): Promise<boolean> {
    await roundTrip();
    if (this.#live().filter((known) => isSame(known.principal, key.principal)).length >= most) return false;
    this.#tables.keys.set(key.keyId, { key: JSON.stringify(key), revoked: false });
    return true;
  }

  async byHash(keyHash: string): Promise<IssuedKey | undefined> {
    await roundTrip();
    return this.#live().find((key) => key.keyHash === keyHash);
  }

  async live(principal: KeyHolder): Promise<readonly IssuedKey[]> {
    await roundTrip();
    return this.#live().filter((key) => isSame(key.principal, principal));
  }

  async revoke(principal: KeyHolder, keyId: string): Promise<boolean> {
    await roundTrip();
    const key = this.#live().find((known) => known.keyId === keyId && isSame(known.principal, principal));
    if (key === undefined) return false;
    this.#tables.keys.set(keyId, { key: JSON.stringify(key), revoked: true });
    return true;
  }

  #live(): IssuedKey[] {
    const rows = [...this.#tables.keys.values()].filter(({ revoked }) => !revoked);
    return rows.map(({ key }) => JSON.parse(key) as IssuedKey);
  }
}

function isSame(a: KeyHolder, b: KeyHolder): boolean {
  return a.role === b.role && a.name === b.name;
}
