import { randomBytes } from 'node:crypto';
import { join } from 'node:path';
import pg from 'pg';
import { freePort } from '../../../libs/postgres/embedded/free-port.js';
import { until } from '../../../libs/postgres/embedded/processes.js';
import { freshDatabase } from '../../support/fresh-database.js';
import { FamilyMember, ProcessFamily } from '../../support/process-family.js';
import { enterShop } from '../../support/small-shop.js';
import { Form } from '../load/rework-line.js';
import { Target } from '../load/send-lanes.js';

export interface ProcessCount {
  readonly apis: number;
  readonly workers: number;
}

/** As it is started in the containers and by `npm start`. */
const WORKER_NODE = '--max-semi-space-size=64';
const PATIENCE_MS = 1_800_000;
const START_MS = 60_000;

/** Apis and workers of the product as processes of their own, on a database of their own, with the setup of a line in it. */
export class HeatbookProcesses {
  private constructor(
    private readonly family: ProcessFamily,
    private readonly drop: () => Promise<void>,
    readonly databaseUrl: string,
    readonly urls: readonly string[],
    readonly key: string,
    /** Looks into the book beside the product. */
    readonly looking: pg.Client,
    private readonly apis: readonly FamilyMember[],
    private readonly startOneWorker: () => Promise<FamilyMember>,
    private workers: readonly FamilyMember[],
  ) {}

  /** @param settings what else they find in their environment */
  static async open(
    redisUrl: string,
    { apis, workers }: ProcessCount,
    settings: Readonly<Record<string, string>> = {},
  ): Promise<HeatbookProcesses> {
    // Where `tsconfig.bench.json` puts what it makes.
    process.env['TEST_TREE'] ??= join(process.cwd(), 'node_modules', '.cache', 'bench');
    const database = await freshDatabase();
    const family = new ProcessFamily();
    const key = randomBytes(32).toString('hex');
    const env = { ...settings, DATABASE_URL: database.url, REDIS_URL: redisUrl, HEATBOOK_ADMIN_KEY: key };
    const urls: string[] = [];
    const started: FamilyMember[] = [];
    for (let n = 0; n < apis; n += 1) {
      const port = String(await freePort());
      const api = family.start('apps/api/main.ts', { ...env, PORT: port });
      await api.printed('api is up', START_MS);
      started.push(api);
      urls.push(`http://127.0.0.1:${port}`);
    }
    const startOneWorker = async (): Promise<FamilyMember> => {
      const worker = family.start('apps/worker/main.ts', { ...env, NODE_OPTIONS: WORKER_NODE });
      await worker.printed('worker is up', START_MS);
      return worker;
    };
    const looking = new pg.Client({ connectionString: database.url });
    await looking.connect();
    const drop = async (): Promise<void> => {
      await looking.end();
      await database.drop();
    };
    const heatbook = new HeatbookProcesses(family, drop, database.url, urls, key, looking, started, startOneWorker, []);
    await heatbook.startWorkers(workers);
    await enterShop(heatbook);
    return heatbook;
  }

  /** Process ids of those that run now. */
  get pids(): { readonly apis: readonly number[]; readonly workers: readonly number[] } {
    const pidOf = ({ pid }: FamilyMember): number => pid;
    return { apis: this.apis.map(pidOf), workers: this.workers.map(pidOf) };
  }

  /** Lines of the logs of the apis. */
  logged(): string[] {
    return this.apis.flatMap((api) => api.stderr().split('\n'));
  }

  /** Where events go, one a request or in batches. */
  target(form: Form): Target {
    const mediaType = `application/cloudevents${form === 'batch' ? '-batch' : ''}+json`;
    return { urls: this.urls, path: '/v1/events', key: this.key, mediaType };
  }

  async call(method: string, path: string, body?: unknown): Promise<{ status: number; body: unknown }> {
    const answer = await fetch(`${this.urls[0] ?? ''}${path}`, {
      method,
      headers: { authorization: `Bearer ${this.key}`, 'content-type': 'application/json' },
      ...(body !== undefined && { body: JSON.stringify(body) }),
    });
    const text = await answer.text();
    return { status: answer.status, body: text === '' ? {} : (JSON.parse(text) as unknown) };
  }

  /**
   * Waits until no event is pending.
   * @returns how long that took, ms
   * @throws Error where one is parked, or it takes more than half an hour
   */
  async applied(): Promise<number> {
    const began = performance.now();
    await this.settled();
    const tookMs = performance.now() - began;
    const { rows } = await this.looking.query('SELECT FROM intake_parked LIMIT 1');
    if (rows.length > 0) throw new Error('an event was parked');
    return tookMs;
  }

  /** Waits until each event is applied or parked. @throws Error where that takes more than half an hour */
  async settled(): Promise<void> {
    if (!(await until(async () => !(await this.isAnyPending()), PATIENCE_MS)))
      throw new Error('events are still pending');
  }

  /** How many wait to be folded. */
  async pendingEvents(): Promise<number> {
    const { rows } = await this.looking.query<{ count: number }>('SELECT count(*)::integer FROM intake_pending');
    return rows[0]?.count ?? NaN;
  }

  async startWorkers(count: number): Promise<void> {
    const started = [];
    for (let n = 0; n < count; n += 1) started.push(await this.startOneWorker());
    this.workers = [...this.workers, ...started];
  }

  async stopWorkers(): Promise<void> {
    await Promise.all(this.workers.map((worker) => worker.end('SIGTERM')));
    this.workers = [];
  }

  async close(): Promise<void> {
    await this.family.endAll();
    await this.drop();
  }

  /** From the newest end, since at the other one it would read through all that was folded already, again and again. */
  private async isAnyPending(): Promise<boolean> {
    const { rows } = await this.looking.query('SELECT number FROM intake_pending ORDER BY number DESC LIMIT 1');
    return rows.length > 0;
  }
}
