import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { newSigningKey } from '../../libs/evidence/log/node-signer.js';
import { HeatbookProcesses } from '../bench/services/heatbook-processes.js';
import { HouseCalls, houseCaller } from '../support/running-house.js';
import { signInPerson } from '../support/signed-in-person.js';

/**
 * Of the api, which holds 72 to 84 MB of it (after a collection) when it is warm. With more room the collector leaves lying what nobody holds, and
 * a leak would look the same; here one ends the process, and what grows beside the heap is seen.
 */
const SMALL_HEAP = '--max-old-space-size=128 --max-semi-space-size=4';

/** An api and a worker of the product as processes of their own, with what it takes to enter something over HTTP. */
export interface FuzzProduct extends HouseCalls {
  readonly apiPid: number;
  /** Waits until no event is pending. */
  settled(): Promise<void>;
  /** What the api has put into its log as an error, and what Node says at its end where the heap is full; a line each. */
  errors(): string[];
  close(): Promise<void>;
}

export async function openFuzzProduct(redisUrl: string): Promise<FuzzProduct> {
  const folder = await mkdtemp(join(tmpdir(), 'heatbook-fuzz-'));
  // With a key the log is signed, and its proofs are there to be asked for.
  const settings = { HEATBOOK_SIGNING_KEY: newSigningKey(), HEATBOOK_DATA: folder, NODE_OPTIONS: SMALL_HEAP };
  const processes = await HeatbookProcesses.open(redisUrl, { apis: 1, workers: 1 }, settings);
  const [url = ''] = processes.urls;
  const [apiPid = 0] = processes.pids.apis;
  const call = houseCaller(url, processes.key);
  const settled = async (): Promise<void> => {
    await processes.settled();
  };
  return {
    url,
    adminKey: processes.key,
    apiPid,
    call,
    settled,
    person: (name, roles, customer) =>
      signInPerson(url, processes.key, { name, roles, ...(customer !== undefined && { customer }) }),
    post: async (events, key = processes.key) => {
      const answer = await call('POST', '/v1/events', events, { key, type: 'application/cloudevents-batch+json' });
      await settled();
      return answer;
    },
    errors: () => processes.logged().filter((line) => /"level":"error"|FATAL ERROR/.test(line)),
    close: async () => {
      await processes.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
