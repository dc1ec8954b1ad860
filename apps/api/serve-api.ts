import { raiseHold } from '../../libs/ledger/holds/raise-hold.js';
import { releaseHold } from '../../libs/ledger/holds/release-hold.js';
import { FoldWaker } from '../../libs/ledger/intake/fold-waker.js';
import { traceArrived } from '../../libs/ledger/traces/trace-arrived.js';
import { House } from '../house/open-house.js';
import { createApi, RunningApi } from './create-api.js';

export interface ServeOptions {
  readonly host: string;
  readonly port: number;
  /** A key with role admin that is given from outside. */
  readonly adminKey: string | undefined;
}

/** Serves the HTTP face of a house. */
export function serveApi(house: House, { host, port, adminKey }: ServeOptions): Promise<RunningApi> {
  const { book, inbox, reads, setupStore, keys, traces, carrier, log } = house;
  const waker = new FoldWaker(carrier.queue, book.store.shards, log);
  return createApi(
    {
      intake: {
        inbox,
        seal: book.seal,
        wake: (subjects) => {
          waker.wake(subjects);
        },
      },
      parking: book.store,
      reads,
      setup: book.setup,
      setupStore,
      keys,
      traces,
      clock: book.clock,
      queue: carrier.queue,
      holds: { raise: (wish) => raiseHold(book, wish), release: (wish) => releaseHold(book, wish) },
      traceArrived: (name) => traceArrived(book, name),
      log,
      ...(adminKey !== undefined && { adminKeyHash: book.seal.sha256Hex(adminKey) }),
      ready: () => house.ready(),
    },
    { host, port },
  );
}
