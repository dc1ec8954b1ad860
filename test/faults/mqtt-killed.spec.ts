import { Client } from 'pg';
import { StationCloudEvent } from '../../libs/simulator/station-cloud-event.js';
import { until } from '../../libs/postgres/embedded/processes.js';
import { brokerConnected } from '../support/broker-connected.js';
import { DeafLine, deafLine } from '../support/deaf-line.js';
import {
  aedesBroker,
  brokerEnvironment,
  INSTALL_MS,
  mosquittoBroker,
  OpenBroker,
  TestBroker,
} from '../support/mqtt-brokers.js';
import { MqttStation } from '../support/mqtt-station.js';
import { mulberry32 } from '../support/mulberry32.js';
import { demoFacts, ServiceBench, Undisturbed, undisturbedBook } from '../support/process-bench.js';
import { refOf } from '../support/process-evidence.js';
import { FamilyMember } from '../support/process-family.js';
import { testSeed } from '../support/process-seed.js';
import { FreshRedis, freshRedisUrl } from '../support/redis-url.js';

const SEED = testSeed();
const KILLS = 3;
const PATIENCE_MS = 60_000;
const SETTLE_MS = 20_000;
const BROKERS: [string, OpenBroker][] = [
  ['MQTT 3.1.1', aedesBroker],
  ['MQTT 5', mosquittoBroker],
];

let undisturbed: Undisturbed;

beforeAll(async () => {
  undisturbed = await undisturbedBook();
}, 120_000);

describe.each(BROKERS)('an api that takes events by %s', (_version, openBroker) => {
  let redis: FreshRedis;
  let broker: TestBroker;
  let line: DeafLine;
  let bench: ServiceBench;
  let stations: MqttStation;

  beforeEach(async () => {
    redis = await freshRedisUrl();
    broker = await openBroker();
    line = await deafLine(broker.port);
    bench = await ServiceBench.open(redis.url, brokerEnvironment({ ...broker, port: line.port }));
    stations = await MqttStation.open(broker);
  }, INSTALL_MS);

  afterEach(async () => {
    await stations.close();
    await bench.close();
    await line.close();
    await broker.close();
    await redis.drop();
  });

  async function startApi(): Promise<FamilyMember> {
    const api = await bench.startApi();
    await brokerConnected(bench.client.url);
    return api;
  }

  function publish({ source, ...event }: StationCloudEvent): Promise<void> {
    return stations.publish(`heatbook${source}/events`, JSON.stringify({ source, ...event }));
  }

  function oneFact(): StationCloudEvent {
    const [fact] = demoFacts();
    if (fact === undefined) throw new Error('the demo has facts');
    return fact;
  }

  /** Waits until the service knows an event. */
  async function isKnown({ source, id }: StationCloudEvent): Promise<boolean> {
    const path = `/v1/events?${new URLSearchParams({ source, id }).toString()}`;
    return until(
      () =>
        bench.client.get(path).then(
          () => true,
          () => false,
        ),
      PATIENCE_MS,
    );
  }

  /** What was answered for an event, in order. */
  function statesOf({ source, id }: StationCloudEvent): string[] {
    const answers = stations.answers(source.slice('/stations/'.length));
    return answers.flatMap(({ items }) => items.flatMap((item) => (item.id === id ? [item.state] : [])));
  }

  it('is sent again what it had received and not committed when it was killed', async () => {
    const fact = oneFact();
    const api = await startApi();
    const lock = new Client({ connectionString: bench.databaseUrl });
    await lock.connect();
    try {
      await lock.query('BEGIN');
      await lock.query('LOCK TABLE intake_event IN ACCESS EXCLUSIVE MODE');
      await publish(fact);
      const waits = "SELECT pid FROM pg_locks WHERE NOT granted AND relation = 'intake_event'::regclass";
      expect(await until(async () => (await lock.query(waits)).rows.length > 0, PATIENCE_MS)).toBe(true);
      expect(await api.end('SIGKILL')).toBe('SIGKILL');
      // What waits for the lock would still be done for a process that is gone.
      await lock.query(`SELECT pg_terminate_backend(pid) FROM (${waits}) AS waiting`);
      await lock.query('ROLLBACK');
    } finally {
      await lock.end();
    }
    expect(statesOf(fact)).toEqual([]);
    await bench.startApi();
    await stations.until(() => statesOf(fact).length > 0, 'the answer');
    expect(statesOf(fact)).toEqual(['accepted']);
  }, 240_000);

  it('is sent again what it had committed and not acknowledged, and knows it', async () => {
    const fact = oneFact();
    const api = await startApi();
    line.isDeaf = true;
    await publish(fact);
    expect(await isKnown(fact)).toBe(true);
    expect(await api.end('SIGKILL')).toBe('SIGKILL');
    expect(statesOf(fact)).toEqual([]);
    line.isDeaf = false;
    await bench.startApi();
    await stations.until(() => statesOf(fact).length > 0, 'the answer');
    expect(statesOf(fact)).toEqual(['duplicate']);
  }, 240_000);

  it(`makes the same book of the same facts, however often it is killed (seed ${SEED})`, async () => {
    const random = mulberry32(SEED);
    const facts = demoFacts();
    await bench.startWorker();
    let api = await startApi();
    const published = (async () => {
      for (const fact of facts) await publish(fact);
    })();
    const answered = (): number => facts.filter((fact) => statesOf(fact).length > 0).length;
    for (let kill = 1; kill <= KILLS; kill += 1) {
      const enough = Math.floor(((kill - random()) / KILLS) * 0.9 * facts.length);
      await stations.until(() => answered() >= enough, `the answers before kill ${kill}`);
      expect(await api.end('SIGKILL')).toBe('SIGKILL');
      api = await bench.startApi();
    }
    await published;
    await stations.until(() => answered() === facts.length, 'an answer for every fact');
    expect(facts.flatMap(statesOf).filter((state) => state === 'rejected')).toEqual([]);
    await bench.client.settled(SETTLE_MS);
    bench.acknowledged.push(...facts.map(({ source, id }) => ({ source, id })));
    expect(new Set(bench.acknowledged.map(refOf)).size).toBe(facts.length);
    expect(await bench.outcome(undisturbed)).toEqual({ ...undisturbed, faults: [] });
  }, 240_000);
});
