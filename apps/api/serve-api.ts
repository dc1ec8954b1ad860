import { MqttConfig } from '../../libs/config/load-config.js';
import { FoldWaker } from '../../libs/ledger/intake/fold-waker.js';
import { Log } from '../../libs/ledger/ports/log.js';
import { traceArrived } from '../../libs/ledger/traces/trace-arrived.js';
import { House, IntakeBounds } from '../house/open-house.js';
import { createApi, RunningApi } from './create-api.js';
import { bulkBodies, SERVER_LIMITS, type ServerLimits } from './http/server-limits.js';
import { IntakeDesk } from './intake/intake-desk.js';
import { ApiMetrics } from './metrics/api-metrics.js';
import { MqttDoor } from './mqtt/mqtt-door.js';
import { MqttLink } from './mqtt/mqtt-link.js';

export interface ServeOptions {
  readonly host: string;
  readonly port: number;
  /** A key with role admin that is given from outside. */
  readonly adminKey: string | undefined;
  /** Whether the session's cookie is for HTTPS alone whatever a request looks like. */
  readonly secureCookies?: boolean;
  /** Folder of the built pages; where the build puts them unless told otherwise. */
  readonly pages?: string;
  /** What it bears of a client; the usual unless told otherwise. */
  readonly limits?: ServerLimits;
  /** Addresses, or ranges as CIDR, of proxies whose X-Forwarded-… headers are believed; none unless told. */
  readonly proxies?: readonly string[];
  /** A broker to take events from besides; it is not waited for. */
  readonly mqtt?: MqttConfig | undefined;
  /** What of events and traces it keeps in memory; the usual unless told otherwise. */
  readonly intake?: Pick<IntakeBounds, 'memoryBytes'>;
}

/** Serves the HTTP face of a house. */
export async function serveApi(
  house: House,
  {
    host,
    port,
    adminKey,
    secureCookies = false,
    pages,
    limits: given = SERVER_LIMITS,
    proxies = [],
    mqtt,
    intake,
  }: ServeOptions,
): Promise<RunningApi> {
  const {
    book,
    inbox,
    reads,
    customerReads,
    access,
    setupStore,
    keys,
    identity,
    traces,
    notices,
    carrier,
    log,
    tracer,
  } = house;
  const limits = { ...given, ...(intake && { bulkBodies: bulkBodies(intake.memoryBytes) }) };
  const waker = new FoldWaker(carrier.queue, book.store.shards, log, { tracer });
  const api = await createApi(
    {
      intake: {
        inbox,
        seal: book.seal,
        wake: (subjects, request) => {
          waker.wake(subjects, request);
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
      figures: house.figures,
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
      tracer,
      ...(adminKey !== undefined && { adminKeyHash: book.seal.sha256Hex(adminKey) }),
      ready: () => house.ready(),
    },
    { host, port, pages, limits, proxies },
  );
  const link = mqtt === undefined ? undefined : openLink(api, mqtt, log);
  const close = async (): Promise<void> => {
    await link?.stop();
    await api.close();
    // What the last requests brought would otherwise wait for the sweeper.
    await waker.idle();
  };
  return { ...api, close };
}

function openLink({ app }: RunningApi, mqtt: MqttConfig, log: Log): MqttLink {
  const metrics = app.get(ApiMetrics);
  return new MqttLink(mqtt, { door: new MqttDoor({ desk: app.get(IntakeDesk), metrics, log }), metrics, log });
}
