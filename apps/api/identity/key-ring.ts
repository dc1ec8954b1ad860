import { timingSafeEqual } from 'node:crypto';
import { Principal } from '../../../libs/ledger/identity/principal.js';
import { KeyHolder, KeyStore } from '../../../libs/ledger/ports/key-store.js';
import { Seal } from '../../../libs/ledger/ports/seal.js';

const CACHE_MS = 5_000;
const CACHE_SIZE = 1_000;

/** Tells whose key a request carries. Keys are known by their SHA-256 only. */
export class KeyRing {
  private readonly cache = new Map<string, { principal: Principal; untilMs: number }>();
  private readonly adminKeyHash: Buffer | undefined;
  /** How often it was told to forget: what was looked up before is not to be kept afterwards. */
  private forgotten = 0;

  /**
   * @param adminKeyHash lower-case hex SHA-256 of the key that automation uses, where there is one
   * @param nowMs a clock that only runs forward
   */
  constructor(
    private readonly keys: Pick<KeyStore, 'byHash'>,
    private readonly seal: Pick<Seal, 'sha256Hex'>,
    adminKeyHash: string | undefined,
    private readonly nowMs: () => number = () => performance.now(),
  ) {
    this.adminKeyHash = adminKeyHash === undefined ? undefined : Buffer.from(adminKeyHash);
  }

  /** Whose key stands in an Authorization header; undefined for none, a malformed one or an unknown key. */
  async identify(authorization: string | undefined): Promise<Principal | undefined> {
    const key = /^Bearer +([A-Za-z0-9._~+/:-]+=*)$/i.exec(authorization ?? '')?.[1];
    if (key === undefined) return undefined;
    const hash = this.seal.sha256Hex(key);
    if (this.adminKeyHash !== undefined && sameHash(Buffer.from(hash), this.adminKeyHash)) {
      return principalOf({ role: 'admin', name: 'admin' });
    }
    const cached = this.cache.get(hash);
    if (cached !== undefined && this.nowMs() < cached.untilMs) return cached.principal;
    const { forgotten } = this;
    const issued = await this.keys.byHash(hash);
    if (issued === undefined) {
      this.cache.delete(hash);
      return undefined;
    }
    // Few keys are in use at a time; starting over is cheaper than keeping track of which was used last.
    if (this.cache.size >= CACHE_SIZE) this.cache.clear();
    const principal = principalOf(issued.principal);
    if (forgotten === this.forgotten) this.cache.set(hash, { principal, untilMs: this.nowMs() + CACHE_MS });
    return principal;
  }

  /** Forgets what it has looked up, so that a key that was revoked here is refused at once. */
  forget(): void {
    this.forgotten += 1;
    this.cache.clear();
  }
}

function principalOf({ role, name }: KeyHolder): Principal {
  return { name, via: 'key', roles: [role] };
}

function sameHash(a: Buffer, b: Buffer): boolean {
  return a.length === b.length && timingSafeEqual(a, b);
}
