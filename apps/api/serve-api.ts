import { FoldWaker } from '../../libs/ledger/intake/fold-waker.js';
import { traceArrived } from '../../libs/ledger/traces/trace-arrived.js';
import { House, IntakeBounds } from '../house/open-house.js';
import { createApi, RunningApi } from './create-api.js';
import { bulkBodies, SERVER_LIMITS } from './http/server-limits.js';

export interface ServeOptions {
  readonly host: string;
  readonly port: number;
  /** A key with role admin that is given from outside. */
  readonly adminKey: string | undefined;
  /** Whether the session's cookie is for HTTPS alone whatever a request looks like. */
  readonly secureCookies?: boolean;
  /** Folder of the built pages; where the build puts them unless told otherwise. */
  readonly pages?: string;
  /** What of events and traces it keeps in memory; the usual unless told otherwise. */
  readonly intake?: Pick<IntakeBounds, 'memoryBytes'>;
}

/** Serves the HTTP face of a house. */
export async function serveApi(
  house: House,
  { host, port, adminKey, secureCookies = false, pages, intake }: ServeOptions,
): Promise<RunningApi> {
  const { book, inbox, reads, customerReads, access, setupStore, keys, identity, traces, notices, carrier, log } =
    house;
  const limits = { ...SERVER_LIMITS, ...(intake && { bulkBodies: bulkBodies(intake.memoryBytes) }) };
  const waker = new FoldWaker(carrier.queue, book.store.shards, log);
  const api = await createApi(
    {
      intake: {
        inbox,
        seal: book.seal,
        wake: (subjects) => {
          waker.wake(subjects);
        },
      },
      book,
      parking: book.store,
      reads,
      customerReads,
      access,
      setup: book.setup,
      setupStore,
      keys,
      identity,
      secureCookies,
      traces,
      siteLog: house.siteLog,
      signer: house.signer,
      notices,
      search: house.search,
      containments: house.containments,
      archives: house.archives,
      retention: house.retention,
      stations: house.stations,
      changes: house.changes,
      clock: book.clock,
      queue: carrier.queue,
      traceArrived: (name) => traceArrived(book, name),
      log,
      ...(adminKey !== undefined && { adminKeyHash: book.seal.sha256Hex(adminKey) }),
      ready: () => house.ready(),
    },
    { host, port, pages, limits },
  );
  const close = async (): Promise<void> => {
    await api.close();
    // What the last requests brought would otherwise wait for the sweeper.
    await waker.idle();
  };
  return { ...api, close };
}
