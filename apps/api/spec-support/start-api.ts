import { randomUUID } from 'node:crypto';
import { promisify } from 'node:util';
import { newSigningKey, nodeSigner } from '../../../libs/evidence/log/node-signer.js';
import { nodeDigests } from '../../../libs/evidence/node-digests.js';
import { SiteLogDeps } from '../../../libs/ledger/log/site-log-deps.js';
import { MemorySignedBefore } from '../../../libs/ledger/memory/memory-signed-before.js';
import { sequenceLog } from '../../../libs/ledger/log/sequence-log.js';
import { ReadLog } from '../../../libs/ledger/log/read-log.js';
import { seal } from '../../../libs/evidence/seal.js';
import { BookDeps } from '../../../libs/ledger/fold/book-deps.js';
import { foldShard } from '../../../libs/ledger/fold/fold-shard.js';
import { InboxBatcher } from '../../../libs/ledger/intake/inbox-batcher.js';
import { recheckLimits } from '../../../libs/ledger/limits/recheck-limits.js';
import { raiseNotices } from '../../../libs/ledger/notices/raise-notices.js';
import { MemoryArchiveStore } from '../../../libs/ledger/memory/memory-archive-store.js';
import { memoryBook } from '../../../libs/ledger/memory/memory-book.js';
import { memoryIdentity } from '../../../libs/ledger/memory/memory-identity.js';
import { Log } from '../../../libs/ledger/ports/log.js';
import { enterHouseLimits } from '../../../libs/ledger/setup/house-setup.js';
import { SetupBook } from '../../../libs/ledger/setup/setup-book.js';
import { openFigures } from '../../house/metrics/open-figures.js';
import { LOOK_SETTINGS } from '../../house/metrics/timed-look.js';
import { type ApiOptions, createApi } from '../create-api.js';

export const ADMIN_KEY = 'spec-admin-key';

interface Answer {
  readonly status: number;
  readonly headers: Headers;
  readonly text: string;
  /** The body as JSON; undefined where there is none. */
  readonly body: unknown;
}

interface AskOptions {
  /** Admin's unless told otherwise; null sends none. */
  readonly key?: string | null;
  /** Sent as JSON. */
  readonly body?: unknown;
  /** Sent as it is. */
  readonly raw?: string | Buffer;
  readonly type?: string;
  readonly headers?: Readonly<Record<string, string>>;
}

type SpecApiOptions = Pick<ApiOptions, 'pages' | 'limits' | 'proxies'> & { readonly secureCookies?: boolean };

/** A service over stores in memory, with its fold run by hand. */
export interface SpecApi {
  readonly url: string;
  readonly lines: readonly string[];
  /** Traces that were told to have arrived, in order. */
  readonly arrived: readonly string[];
  readiness: 'ok' | 'failing' | 'throws';
  readonly ask: (method: string, path: string, options?: AskOptions) => Promise<Answer>;
  /** What GET answers, as bytes. */
  readonly bytes: (path: string) => Promise<Buffer>;
  readonly fold: () => Promise<void>;
  /** Judges anew for revisions of limits, as the timer does. */
  readonly recheckLimits: () => Promise<void>;
  /** Runs the sequencer of the log, with a key. */
  readonly sequenceLog: () => Promise<void>;
  /** Runs the timer of notices. */
  readonly raiseNotices: () => Promise<number>;
  /** Open connections. */
  readonly connections: () => Promise<number>;
  readonly close: () => Promise<void>;
}

/** @param options pages: the folder of built pages, where it matters; limits, proxies, secureCookies: others than the usual */
export async function startApi({ secureCookies = false, ...options }: SpecApiOptions = {}): Promise<SpecApi> {
  const clock = { now: () => new Date().toISOString() };
  const {
    book,
    read,
    customers: customerReads,
    access,
    setup: setupStore,
    keys,
    traces,
    notices,
    search,
    containments,
    retention,
    stations,
    changes,
    siteLog,
  } = memoryBook(clock);
  const setup = new SetupBook(setupStore);
  await enterHouseLimits(setupStore, setup);
  const lines: string[] = [];
  const arrived: string[] = [];
  const write = (message: string, details?: object): void => void lines.push(`${message} ${JSON.stringify(details)}`);
  const log: Log = { info: write, warn: write, error: write };
  const deps: BookDeps = { store: book, traces, setup, seal, clock, newId: randomUUID, log };
  const origin = 'rework.example/book';
  const logDeps: SiteLogDeps = {
    ...{ siteLog, store: book, reads: read, seal, sha256: nodeDigests.sha256, clock, log, origin },
    ...{ signer: nodeSigner(newSigningKey(), origin), signedBefore: new MemorySignedBefore() },
  };
  const readLog = new ReadLog({
    ...logDeps,
    ...{ signer: undefined, queue: { add: () => Promise.resolve() } },
  });
  const figures = openFigures(
    { reads: read, notices, siteLog: readLog, queue: { waiting: () => Promise.resolve(0) }, clock },
    // Specs look at once at what they have done.
    { ...LOOK_SETTINGS, keepMs: 0 },
  );
  const spec: Pick<SpecApi, 'readiness'> = { readiness: 'ok' };
  const running = await createApi(
    {
      intake: { inbox: new InboxBatcher(book), seal, wake: () => undefined },
      book: deps,
      ...{ parking: book, reads: read, customerReads, access, setup, setupStore, keys, traces, notices, clock, log },
      ...{ search, containments, retention, stations, changes, signer: null },
      archives: new MemoryArchiveStore(),
      siteLog: readLog,
      figures,
      identity: memoryIdentity(),
      secureCookies,
      traceArrived: (name) => Promise.resolve(void arrived.push(name)),
      queue: { addMany: () => Promise.resolve() },
      adminKeyHash: seal.sha256Hex(ADMIN_KEY),
      ready: () => {
        if (spec.readiness === 'throws') return Promise.reject(new Error('the database is away'));
        return Promise.resolve({ ok: spec.readiness === 'ok', checks: { database: spec.readiness } });
      },
    },
    { port: 0, host: '127.0.0.1', ...options },
  );
  return Object.assign(spec, {
    ...{ url: running.url, lines, arrived },
    close: async () => {
      await running.close();
      figures.close();
    },
    ask: (method: string, path: string, options?: AskOptions) => ask(`${running.url}${path}`, method, options),
    bytes: async (path: string) => {
      const response = await fetch(`${running.url}${path}`, { headers: { authorization: `Bearer ${ADMIN_KEY}` } });
      return Buffer.from(await response.arrayBuffer());
    },
    connections: () =>
      promisify((done: (error: Error | null, count: number) => void) => {
        running.app.getHttpServer().getConnections(done);
      })(),
    recheckLimits: () => recheckLimits(deps),
    sequenceLog: () => sequenceLog(logDeps),
    raiseNotices: () => raiseNotices({ ...deps, reads: read, notices }),
    fold: async () => {
      for (const shard of await book.shardsDue()) await foldShard(deps, shard);
    },
  });
}

async function ask(url: string, method: string, options: AskOptions = {}): Promise<Answer> {
  const { key = ADMIN_KEY, raw, type = 'application/json', headers = {} } = options;
  const body = raw ?? (options.body === undefined ? undefined : JSON.stringify(options.body));
  const response = await fetch(url, {
    method,
    headers: {
      ...headers,
      ...(key !== null && { authorization: `Bearer ${key}` }),
      ...(body !== undefined && { 'content-type': type }),
    },
    ...(body !== undefined && { body }),
  });
  const text = await response.text();
  const isJson = /json/.test(response.headers.get('content-type') ?? '');
  return { status: response.status, headers: response.headers, text, body: isJson ? JSON.parse(text) : undefined };
}
