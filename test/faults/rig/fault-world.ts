import { randomBytes } from 'node:crypto';
import { pathToFileURL } from 'node:url';
import { freePort } from '../../../libs/postgres/embedded/free-port.js';
import { until } from '../../../libs/postgres/embedded/processes.js';
import { BookClient } from '../../support/process-client.js';
import { ProcessFamily } from '../../support/process-family.js';
import { enterShop } from '../../support/small-shop.js';
import { runnable } from '../../support/test-environment.js';
import { FaultServers } from './fault-servers.js';
import { Role, Supervised } from './supervised.js';
import { WireProxy, WireTrap } from './wire-proxy.js';

/** A process that takes part in a fault. */
export interface Member {
  readonly process: Supervised;
  /** What stations reach it by, if they do. */
  readonly front?: WireProxy;
}

const APIS = 2;
const WORKERS = 2;
const START_MS = 60_000;
const TRAP_MS = 20_000;

/** Two apis and two workers of the product, Postgres and Redis, every wire between them in the rig's hands. */
export class FaultWorld {
  /** Processes that were ended by force so far. */
  kills = 0;

  private constructor(
    readonly servers: FaultServers,
    readonly apis: readonly Member[],
    readonly workers: readonly Member[],
    private readonly family: ProcessFamily,
    private readonly key: string,
  ) {}

  static async open(): Promise<FaultWorld> {
    const servers = await FaultServers.open();
    const family = new ProcessFamily();
    const key = randomBytes(32).toString('hex');
    const started: { role: Role; member: Member }[] = [];
    for (const role of [...Array<Role>(APIS).fill('api'), ...Array<Role>(WORKERS).fill('worker')]) {
      started.push({ role, member: await startMember(role, servers, family, key) });
    }
    const of = (wanted: Role): Member[] => started.flatMap(({ role, member }) => (role === wanted ? [member] : []));
    const world = new FaultWorld(servers, of('api'), of('worker'), family, key);
    if (!(await world.isReadyWithin(START_MS))) throw new Error('the product has not become ready');
    await enterShop(world);
    return world;
  }

  get members(): readonly Member[] {
    return [...this.apis, ...this.workers];
  }

  /** By the way that stations have, with all that may befall it. */
  get clients(): readonly BookClient[] {
    return this.apis.flatMap(({ front }) => (front === undefined ? [] : [this.#client(front)]));
  }

  get reader(): BookClient {
    const [client] = this.clients;
    if (client === undefined) throw new Error('the world has an api');
    return client;
  }

  kill({ process }: Member): void {
    this.kills += 1;
    process.kill();
  }

  /**
   * Kills a process at the moment that it comes to a point on its wire to Postgres.
   * @throws Error where it does not come there in time
   */
  async killAt(member: Member, point: Omit<WireTrap, 'spring'>): Promise<void> {
    const { postgres } = member.process.wires;
    const before = this.kills;
    postgres.set({
      ...point,
      spring: () => {
        this.kill(member);
      },
    });
    const isSprung = await until(() => this.kills > before, TRAP_MS);
    postgres.mend();
    if (!isSprung) throw new Error(`it has not come to "${point.text}" (${point.when})`);
  }

  async call(method: string, path: string, body: unknown): Promise<{ status: number; body: unknown }> {
    const answer = await fetch(`${this.reader.url}${path}`, {
      method,
      headers: { authorization: `Bearer ${this.key}`, 'content-type': 'application/json' },
      body: JSON.stringify(body),
    });
    return { status: answer.status, body: await answer.json() };
  }

  /** Whether every api says that it is ready within that time. */
  async isReadyWithin(timeoutMs: number): Promise<boolean> {
    return until(async () => (await Promise.all(this.clients.map((one) => one.isReady()))).every(Boolean), timeoutMs);
  }

  async close(): Promise<void> {
    await Promise.all(this.members.map(({ process }) => process.close()));
    await Promise.all(this.apis.flatMap(({ front }) => (front === undefined ? [] : [front.close()])));
    await this.family.endAll();
    await this.servers.close();
  }

  #client(front: WireProxy): BookClient {
    return new BookClient(`http://127.0.0.1:${String(front.port)}`, this.key);
  }
}

async function startMember(role: Role, servers: FaultServers, family: ProcessFamily, key: string): Promise<Member> {
  const url = servers.postgresUrl;
  const wires = {
    postgres: await WireProxy.open(Number(url.port)),
    redis: await WireProxy.open(servers.redisPort),
  };
  url.port = String(wires.postgres.port);
  const port = await freePort();
  const env = {
    DATABASE_URL: url.href,
    REDIS_URL: `redis://127.0.0.1:${String(wires.redis.port)}`,
    HEATBOOK_ADMIN_KEY: key,
    HEATBOOK_DATA: servers.folder,
    PORT: String(port),
  };
  const clock = pathToFileURL(runnable('test/faults/rig/skewed-clock.ts')).href;
  const process = new Supervised(role, wires, family, env, clock);
  return role === 'api' ? { process, front: await WireProxy.open(port) } : { process };
}
