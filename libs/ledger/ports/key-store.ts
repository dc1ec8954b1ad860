/** Who a key speaks for. */
export type KeyHolder =
  { readonly role: 'admin'; readonly name: string } | { readonly role: 'station'; readonly name: string };

export interface IssuedKey {
  readonly keyId: string;
  /** Lower-case hex SHA-256 of the key; the key itself is kept nowhere. */
  readonly keyHash: string;
  readonly principal: KeyHolder;
  /** RFC 3339 UTC. */
  readonly issuedAt: string;
}

export interface KeyStore {
  /**
   * Keeps a key. A principal has at most `most` live keys.
   * @returns false where it has that many already; nothing is kept then.
   */
  add(key: IssuedKey, most: number): Promise<boolean>;
  byHash(keyHash: string): Promise<IssuedKey | undefined>;
  live(principal: KeyHolder): Promise<readonly IssuedKey[]>;
  /** @returns false where there is no such live key. */
  revoke(principal: KeyHolder, keyId: string): Promise<boolean>;
}
