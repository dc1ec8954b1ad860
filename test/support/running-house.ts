import { newSigningKey } from '../../libs/evidence/log/node-signer.js';
import { Role } from '../../libs/ledger/identity/principal.js';
import { sequenceLog } from '../../libs/ledger/log/sequence-log.js';
import { newKey } from '../../libs/ledger/keys/new-key.js';
import { serveApi, ServeOptions } from '../../apps/api/serve-api.js';
import { House, HouseOptions, openHouse } from '../../apps/house/open-house.js';
import { Log } from '../../libs/ledger/ports/log.js';
import { startWorker } from '../../apps/worker/start-worker.js';
import { freshDatabase } from './fresh-database.js';
import { HttpAnswer } from './http-answer.js';
import { silentLog } from './silent-log.js';
import { SignedInPerson, signInPerson } from './signed-in-person.js';

/** The product in this process, as `heatbook run` puts it together, on a database of its own. */
export interface RunningHouse {
  readonly house: House;
  readonly databaseUrl: string;
  readonly url: string;
  /** A key with role admin. */
  readonly adminKey: string;
  /** Calls the API with the admin key, or another one, or none. */
  call(method: string, path: string, body?: unknown, options?: CallOptions): Promise<HttpAnswer>;
  /** Makes an account and signs it in. */
  person(name: string, roles: readonly Role[], customer?: string): Promise<SignedInPerson>;
  /** Posts a batch and waits until nothing of it is pending any more. */
  post(events: readonly object[], key?: string): Promise<HttpAnswer>;
  close(): Promise<void>;
}

/** What it takes of a running house to enter something over its API. */
export type HouseCalls = Pick<RunningHouse, 'url' | 'adminKey' | 'call' | 'person' | 'post'>;

export interface CallOptions {
  /** Null: none at all. */
  readonly key?: string | null;
  readonly type?: string;
}

interface RunningHouseOptions extends Pick<HouseOptions, 'tracing' | 'service'> {
  readonly log?: Log;
  readonly serving?: Pick<ServeOptions, 'limits' | 'mqtt'>;
}

const PATIENCE_MS = 20_000;

/** @param more serving: what differs from the usual in what is served; the others: what it is opened with besides */
export async function runningHouse(
  redisUrl?: string,
  { serving = {}, ...more }: RunningHouseOptions = {},
): Promise<RunningHouse> {
  const fresh = await freshDatabase();
  const options = { databaseUrl: fresh.url, redisUrl, log: silentLog, signingKey: newSigningKey(), ...more };
  const house = await openHouse(options);
  // Its key is on record and the log signed before anything else happens.
  await sequenceLog(house.logDeps);
  const worker = await startWorker(house);
  const api = await serveApi(house, { host: '127.0.0.1', port: 0, adminKey: undefined, ...serving });
  const { key: adminKey, issued } = newKey(house.book, { role: 'admin', name: 'admin' });
  await house.keys.add(issued, 1);
  const call = houseCaller(api.url, adminKey);
  return {
    house,
    databaseUrl: fresh.url,
    url: api.url,
    adminKey,
    call,
    person: (name, roles, customer) =>
      signInPerson(api.url, adminKey, { name, roles, ...(customer !== undefined && { customer }) }),
    post: async (events, key = adminKey) => {
      const answer = await call('POST', '/v1/events', events, { key, type: 'application/cloudevents-batch+json' });
      await settled(house);
      return answer;
    },
    close: async () => {
      await api.close();
      await worker.close(5000);
      await house.close();
      await fresh.drop();
    },
  };
}

/** Calls an API with this key unless told otherwise. */
export function houseCaller(url: string, adminKey: string): RunningHouse['call'] {
  return async (method, path, body, { key = adminKey, type = 'application/json' } = {}) => {
    const response = await fetch(`${url}${path}`, {
      method,
      headers: {
        ...(key !== null && { authorization: `Bearer ${key}` }),
        ...(body !== undefined && { 'content-type': type }),
      },
      ...(body !== undefined && { body: typeof body === 'string' ? body : JSON.stringify(body) }),
    });
    const text = await response.text();
    const parsed: unknown = text === '' ? {} : JSON.parse(text);
    return { status: response.status, headers: response.headers, body: parsed as Record<string, unknown> };
  };
}

async function settled(house: House): Promise<void> {
  const deadline = Date.now() + PATIENCE_MS;
  while ((await house.reads.backlog()).pending > 0) {
    if (Date.now() > deadline) throw new Error('events are still pending');
  }
}
