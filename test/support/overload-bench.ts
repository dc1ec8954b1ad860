import { randomBytes } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { freePort } from '../../libs/postgres/embedded/free-port.js';
import { WireProxy } from '../faults/rig/wire-proxy.js';
import { freshDatabase } from './fresh-database.js';
import { BookClient } from './process-client.js';
import { FamilyMember, ProcessFamily } from './process-family.js';
import { FreshRedis, freshRedisUrl } from './redis-url.js';
import { enterShop } from './small-shop.js';

export interface Told {
  readonly status: number;
  readonly body: unknown;
  readonly retryAfter: string | null;
}

/** An api as a process of its own whose wire to Postgres can be made slow, and a worker where one is wanted. */
export class OverloadBench {
  readonly client: BookClient;

  private constructor(
    readonly url: string,
    /** To Postgres. */
    readonly wire: WireProxy,
    private readonly api: FamilyMember,
    private readonly adminKey: string,
    private readonly startAnother: () => Promise<FamilyMember>,
    private readonly release: () => Promise<void>,
  ) {
    this.client = new BookClient(url, adminKey);
  }

  /** @param settings variables of the environment beside those that it needs */
  static async open(settings: Readonly<Record<string, string>>): Promise<OverloadBench> {
    const [database, redis, port] = [await freshDatabase(), await freshRedisUrl(), await freePort()];
    const family = new ProcessFamily();
    const direct = new URL(database.url);
    const wire = await WireProxy.open(Number(direct.port));
    const proxied = new URL(database.url);
    proxied.port = String(wire.port);
    const key = randomBytes(32).toString('hex');
    const env = { REDIS_URL: redis.url, HEATBOOK_ADMIN_KEY: key, PORT: String(port) };
    const api = family.start('apps/api/main.ts', { ...env, ...settings, DATABASE_URL: proxied.href });
    await api.printed('api is up');
    const startWorker = async (): Promise<FamilyMember> => {
      const worker = family.start('apps/worker/main.ts', { ...env, DATABASE_URL: direct.href });
      await worker.printed('worker is up');
      return worker;
    };
    const bench = new OverloadBench(`http://127.0.0.1:${String(port)}`, wire, api, key, startWorker, async () => {
      await family.endAll();
      await wire.close();
      await give(database, redis);
    });
    await enterShop(bench);
    return bench;
  }

  startWorker(): Promise<FamilyMember> {
    return this.startAnother();
  }

  async stationKey(station: string): Promise<string> {
    await this.call('PUT', `/v1/stations/${station}`, { kind: 'hot-gas rework' });
    const { body } = await this.call('POST', `/v1/stations/${station}/keys`, {});
    return (body as { key: string }).key;
  }

  /** @param body text is sent as it is */
  async call(method: string, path: string, body: unknown, key = this.adminKey): Promise<Told> {
    const answer = await fetch(`${this.url}${path}`, {
      method,
      headers: { authorization: `Bearer ${key}`, 'content-type': 'application/json' },
      body: typeof body === 'string' || body instanceof Uint8Array ? body : JSON.stringify(body),
    });
    return { status: answer.status, body: await answer.json(), retryAfter: answer.headers.get('retry-after') };
  }

  /** The most memory that the api has had so far, in MiB, or what it has now where the system does not keep that. */
  async peakMib(): Promise<number> {
    const status = await readFile(`/proc/${String(this.api.pid)}/status`, 'utf8');
    return Number(/^VmHWM:\s+(\d+) kB$/m.exec(status)?.[1]) / 1024;
  }

  close(): Promise<void> {
    return this.release();
  }
}

async function give(database: { drop(): Promise<void> }, redis: FreshRedis): Promise<void> {
  await database.drop();
  await redis.drop();
}
