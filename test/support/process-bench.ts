import { randomBytes } from 'node:crypto';
import { makeDemo } from '../../apps/cli/demo/make-demo.js';
import { StationCloudEvent } from '../../libs/simulator/station-cloud-event.js';
import { freePort } from '../../libs/postgres/embedded/free-port.js';
import { migrate, openDatabase } from '../../libs/postgres/open-database.js';
import { PgSetupStore } from '../../libs/postgres/pg-setup-store.js';
import { postgresHarness } from './book-harness.js';
import { Picture } from './book-picture.js';
import { freshDatabase } from './fresh-database.js';
import { BookClient, PostAnswer } from './process-client.js';
import { EventRef, gatherEvidence, refOf } from './process-evidence.js';
import { FamilyMember, ProcessFamily } from './process-family.js';
import { pictureOverHttp } from './process-picture.js';
import { silentLog } from './silent-log.js';

/** What the book should come to, whatever happens on the way. */
export interface Undisturbed {
  readonly picture: Picture;
  /** Events that cannot be applied, by `source id`. */
  readonly parked: ReadonlySet<string>;
}

/** The events of the demo that are taken in, in the order of their arrival. */
export function demoFacts(): StationCloudEvent[] {
  return makeDemo().posts.flatMap(({ events }) =>
    events.flatMap((item) => (item.expected === 'accepted' ? [item.event] : [])),
  );
}

/** The demo in a book that nothing befalls. */
export async function undisturbedBook(): Promise<Undisturbed> {
  const harness = await postgresHarness();
  try {
    for (const { kind, name, body } of makeDemo().setup) await harness.setupStore.revise(kind, name, body, 'demo');
    await harness.post(demoFacts());
    await harness.fold();
    const { items } = await harness.reads.parked({ limit: 500, cursor: null });
    return { picture: await harness.picture(), parked: new Set(items.map(refOf)) };
  } finally {
    await harness.close();
  }
}

/** An api and workers as processes of their own, on a database of their own in which the setup of the demo stands. */
export class ServiceBench {
  readonly client: BookClient;
  /** Events that the service has answered for, as accepted or as a duplicate. */
  readonly acknowledged: EventRef[] = [];
  readonly #family = new ProcessFamily();

  private constructor(
    readonly databaseUrl: string,
    private readonly env: Readonly<Record<'REDIS_URL' | 'PORT' | 'HEATBOOK_ADMIN_KEY', string>>,
    private readonly dropDatabase: () => Promise<void>,
  ) {
    this.client = new BookClient(`http://127.0.0.1:${env.PORT}`, env.HEATBOOK_ADMIN_KEY);
  }

  /** @param more what else its processes find in their environment */
  static async open(redisUrl: string, more: Readonly<Record<string, string>> = {}): Promise<ServiceBench> {
    const database = await freshDatabase();
    await enterDemoSetup(database.url);
    const key = randomBytes(32).toString('hex');
    const port = String(await freePort());
    const env = { ...more, DATABASE_URL: database.url, REDIS_URL: redisUrl, PORT: port, HEATBOOK_ADMIN_KEY: key };
    return new ServiceBench(database.url, env, () => database.drop());
  }

  /** A key with role admin. */
  get adminKey(): string {
    return this.env.HEATBOOK_ADMIN_KEY;
  }

  /** Starts an api, always on the same port, and waits until it answers. */
  async startApi(withinMs?: number): Promise<FamilyMember> {
    const api = this.#family.start('apps/api/main.ts', this.env);
    await api.printed('api is up', withinMs);
    return api;
  }

  async startWorker(withinMs?: number): Promise<FamilyMember> {
    const worker = this.#family.start('apps/worker/main.ts', this.env);
    await worker.printed('worker is up', withinMs);
    return worker;
  }

  /**
   * Posts a batch and notes what is acknowledged.
   * @throws Error where no answer comes, or one that is not an acknowledgement of every event
   */
  async post(events: readonly StationCloudEvent[]): Promise<PostAnswer> {
    const answer = await this.client.post(events);
    const states = answer.status === 202 ? answer.body.items.map(({ state }) => state) : [];
    if (states.length !== events.length || states.includes('rejected')) {
      throw new Error(`not acknowledged: ${answer.status} ${JSON.stringify(answer.body)}`);
    }
    this.acknowledged.push(...events.map(({ source, id }) => ({ source, id })));
    return answer;
  }

  /** What the service says at the end, in a form that can be held against what it should be, with what is wrong. */
  async outcome(expected: Undisturbed): Promise<Undisturbed & { readonly faults: readonly string[] }> {
    const { states, faults } = await gatherEvidence(this.client, this.acknowledged);
    const notApplied = [...states].flatMap(([event, state]) => (state === 'applied' ? [] : [event]));
    const devices = Object.keys(expected.picture.places).map((key) => key.slice('devices/'.length));
    return { picture: await pictureOverHttp(this.client, devices), parked: new Set(notApplied), faults };
  }

  async close(): Promise<void> {
    await this.#family.endAll();
    await this.dropDatabase();
  }
}

/** Migrates a database and enters the setup of the demo. */
export async function enterDemoSetup(url: string): Promise<void> {
  await migrate(url);
  const database = await openDatabase({ url, log: silentLog });
  try {
    const store = new PgSetupStore(database.dataSource);
    for (const { kind, name, body } of makeDemo().setup) await store.revise(kind, name, body, 'demo');
  } finally {
    await database.close();
  }
}
