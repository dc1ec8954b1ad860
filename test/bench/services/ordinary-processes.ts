import { randomBytes } from 'node:crypto';
import pg from 'pg';
import { freePort } from '../../../libs/postgres/embedded/free-port.js';
import { until } from '../../../libs/postgres/embedded/processes.js';
import { freshDatabase } from '../../support/fresh-database.js';
import { ProcessFamily } from '../../support/process-family.js';
import { Form } from '../load/rework-line.js';
import { Target } from '../load/send-lanes.js';

const PROGRAM = 'test/bench/ordinary/main.ts';
const START_MS = 60_000;
const PATIENCE_MS = 600_000;

/** The ordinary way, as an api and a worker of its own on a database of its own. */
export class OrdinaryProcesses {
  private constructor(
    private readonly family: ProcessFamily,
    private readonly drop: () => Promise<void>,
    private readonly url: string,
    private readonly key: string,
    private readonly looking: pg.Client,
  ) {}

  /** `TEST_TREE` must say where the compiled programs are, as `HeatbookProcesses` does. */
  static async open(redisUrl: string): Promise<OrdinaryProcesses> {
    const database = await freshDatabase();
    const family = new ProcessFamily();
    const key = randomBytes(32).toString('hex');
    const port = String(await freePort());
    const env = { DATABASE_URL: database.url, REDIS_URL: redisUrl, BENCH_KEY: key, PORT: port };
    await family.start(PROGRAM, { ...env, ROLE: 'api' }).printed('ordinary api is up', START_MS);
    await family.start(PROGRAM, { ...env, ROLE: 'worker' }).printed('ordinary worker is up', START_MS);
    const looking = new pg.Client({ connectionString: database.url });
    await looking.connect();
    const drop = async (): Promise<void> => {
      await looking.end();
      await database.drop();
    };
    return new OrdinaryProcesses(family, drop, `http://127.0.0.1:${port}`, key, looking);
  }

  target(form: Form): Target {
    const path = form === 'batch' ? '/events/batch' : '/events';
    return { urls: [this.url], path, key: this.key, mediaType: 'application/json' };
  }

  /** Waits until so many events in all are in the ledgers. @returns how long that took, ms */
  async applied(events: number): Promise<number> {
    const began = performance.now();
    const isDone = async (): Promise<boolean> => {
      const { rows } = await this.looking.query<{ done: number }>(
        'SELECT count(*)::integer AS done FROM event WHERE "processedAt" IS NOT NULL',
      );
      return rows[0]?.done === events;
    };
    if (!(await until(isDone, PATIENCE_MS))) throw new Error('events were not applied');
    return performance.now() - began;
  }

  async close(): Promise<void> {
    await this.family.endAll();
    await this.drop();
  }
}
