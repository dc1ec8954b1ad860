import { resolve } from 'node:path';
import { ConfigError } from './config-error.js';
import { EnvironmentReader } from './environment-reader.js';
import {
  BrokerAddress,
  parseBearerKey,
  parseDatabaseUrl,
  parseHost,
  parseHttpUrl,
  parseLogName,
  parseMqttClientId,
  parseMqttUrl,
  parseMqttVersion,
  parsePort,
  parseProxies,
  parseRatio,
  parseRedisUrl,
  parseSigningKey,
  wholeNumber,
} from './parse-values.js';

/** Everything that is set from outside. A secret that is not set is `undefined`, never an empty string. */
export interface HeatbookConfig {
  /** The address to listen on (`HOST`); loopback unless told otherwise. */
  readonly host: string;
  /** TCP port to listen on (`PORT`); 0 takes any free one. */
  readonly port: number;
  /** Where a worker of its own answers for its health (`HEATBOOK_HEALTH_PORT`); nowhere unless told. */
  readonly healthPort: number | undefined;
  /** Absolute path of the folder for everything the service keeps itself (`HEATBOOK_DATA`). */
  readonly dataFolder: string;
  /** Whether an empty book is filled with the invented shift on first start (`HEATBOOK_DEMO`). */
  readonly demo: boolean;
  /** A bearer key with role admin, for automation (`HEATBOOK_ADMIN_KEY` or `HEATBOOK_ADMIN_KEY_FILE`). */
  readonly adminKey: string | undefined;
  /**
   * Whether the cookie of a session is for HTTPS alone even where a request does not show that it came by it
   * (`HEATBOOK_SECURE_COOKIES`): for a proxy that ends TLS and does not say so in X-Forwarded-Proto.
   */
  readonly secureCookies: boolean;
  /**
   * Addresses, or ranges as CIDR, of proxies whose X-Forwarded-For and X-Forwarded-Proto are believed (`HEATBOOK_PROXIES`);
   * those of this machine unless told otherwise.
   */
  readonly proxies: readonly string[];
  /**
   * The key that checkpoints of the log, exports and archives are signed with: PKCS#8 PEM, Ed25519
   * (`HEATBOOK_SIGNING_KEY` or `HEATBOOK_SIGNING_KEY_FILE`).
   */
  readonly signingKey: string | undefined;
  /** Name of the site-wide log (`HEATBOOK_ORIGIN`); drawn at the first start where it is not set. */
  readonly origin: string | undefined;
  /** Postgres to use; without it one is run in the data folder (`DATABASE_URL` or `DATABASE_URL_FILE`). */
  readonly databaseUrl: string | undefined;
  /** Redis for the queue; without it the queue runs on Postgres (`REDIS_URL` or `REDIS_URL_FILE`). */
  readonly redisUrl: string | undefined;
  /** One line for each thing that works, but should not stay so; for whoever starts the service. */
  readonly warnings: readonly string[];
  /** An MQTT broker that station events are taken from besides; none unless told. */
  readonly mqtt: MqttConfig | undefined;
  /** Where traces are sent by OTLP over HTTP, and which part of those that begin here; undefined: nothing is traced. */
  readonly tracing: TracingConfig | undefined;
  /** What the api takes in before it asks stations to come again. */
  readonly intake: {
    /** Bytes of events and traces in its memory (`HEATBOOK_INTAKE_MIB`). */
    readonly memoryBytes: number;
    /** Events in the database that wait to be judged (`HEATBOOK_MOST_PENDING`). */
    readonly mostPending: number;
  };
  /** What the command line's clients talk to and with which key (`HEATBOOK_URL`, `HEATBOOK_KEY`). */
  readonly client: { readonly url: string; readonly key: string | undefined };
}

export interface MqttConfig {
  /** Where the broker is and whom to sign in as (`MQTT_URL` or `MQTT_URL_FILE`). */
  readonly broker: BrokerAddress;
  /**
   * The name of the session at the broker, where messages wait while nobody takes them (`MQTT_CLIENT_ID`). Each process has one
   * of its own and keeps it for good.
   */
  readonly clientId: string;
  /** As the protocol counts its versions: 4 is MQTT 3.1.1 (`MQTT_VERSION`). */
  readonly protocolVersion: 4 | 5;
}

/** The names of these variables are OpenTelemetry's. */
export interface TracingConfig {
  /** Address of the receiver without `/v1/traces` (`OTEL_EXPORTER_OTLP_ENDPOINT`). */
  readonly endpoint: string;
  /** 0 to 1 (`OTEL_TRACES_SAMPLER_ARG`). */
  readonly ratio: number;
}

const DEFAULT_PORT = 3000;
const LOOPBACK: readonly string[] = ['127.0.0.0/8', '::1/128'];
const DEFAULT_CLIENT_ID = 'heatbook';
const DEFAULT_MQTT_VERSION = 5;
/** Least: two traces of the largest size. */
const INTAKE_MIB = { least: 32, most: 65_536, byDefault: 64 };
/** By default what one worker folds in some minutes: far more than a shift brings. */
const MOST_PENDING = { least: 1_000, most: 1_000_000_000, byDefault: 1_000_000 };
const MIB_BYTES = 1024 * 1024;

/**
 * Reads and checks the environment; the only place that does. An empty variable counts as not set, because compose
 * files and unit files hand over empty strings for what was left out.
 *
 * @throws ConfigError with one line for every variable that cannot be used, so that all are mended in one go
 */
export function loadConfig(env: NodeJS.ProcessEnv = process.env): HeatbookConfig {
  const reader = new EnvironmentReader(env);
  const port = reader.value('PORT', parsePort) ?? DEFAULT_PORT;
  const config: HeatbookConfig = {
    host: reader.value('HOST', parseHost) ?? '127.0.0.1',
    port,
    healthPort: reader.value('HEATBOOK_HEALTH_PORT', parsePort),
    dataFolder: resolve(reader.value('HEATBOOK_DATA', (text) => text) ?? './data'),
    demo: reader.flag('HEATBOOK_DEMO', true),
    adminKey: reader.secret('HEATBOOK_ADMIN_KEY', parseBearerKey),
    secureCookies: reader.flag('HEATBOOK_SECURE_COOKIES', false),
    proxies: reader.value('HEATBOOK_PROXIES', parseProxies) ?? LOOPBACK,
    signingKey: reader.secret('HEATBOOK_SIGNING_KEY', parseSigningKey),
    origin: reader.value('HEATBOOK_ORIGIN', parseLogName),
    databaseUrl: reader.secret('DATABASE_URL', parseDatabaseUrl),
    redisUrl: reader.secret('REDIS_URL', parseRedisUrl),
    warnings: reader.warnings,
    mqtt: mqttConfig(reader),
    tracing: readTracing(reader),
    intake: {
      memoryBytes: (reader.value('HEATBOOK_INTAKE_MIB', wholeNumber(INTAKE_MIB)) ?? INTAKE_MIB.byDefault) * MIB_BYTES,
      mostPending: reader.value('HEATBOOK_MOST_PENDING', wholeNumber(MOST_PENDING)) ?? MOST_PENDING.byDefault,
    },
    client: {
      url: reader.value('HEATBOOK_URL', parseHttpUrl) ?? `http://127.0.0.1:${port}`,
      key: reader.value('HEATBOOK_KEY', parseBearerKey),
    },
  };
  if (reader.has('REDIS_URL') && !reader.has('DATABASE_URL')) {
    reader.problem(
      'REDIS_URL is set but DATABASE_URL is not: a queue on Redis needs a Postgres that other processes can reach; ' +
        'set DATABASE_URL too, or unset REDIS_URL to run both from the data folder',
    );
  }
  for (const name of ['MQTT_CLIENT_ID', 'MQTT_VERSION']) {
    if (reader.has(name) && !reader.has('MQTT_URL')) {
      reader.problem(
        `${name} is set but MQTT_URL is not: set MQTT_URL too, or unset ${name} to take no events by MQTT`,
      );
    }
  }
  if (reader.problems.length > 0) throw new ConfigError(reader.problems);
  return config;
}

function mqttConfig(reader: EnvironmentReader): MqttConfig | undefined {
  const broker = reader.secret('MQTT_URL', parseMqttUrl);
  const clientId = reader.value('MQTT_CLIENT_ID', parseMqttClientId) ?? DEFAULT_CLIENT_ID;
  const protocolVersion = reader.value('MQTT_VERSION', parseMqttVersion) ?? DEFAULT_MQTT_VERSION;
  return broker === undefined ? undefined : { broker, clientId, protocolVersion };
}

function readTracing(reader: EnvironmentReader): TracingConfig | undefined {
  const endpoint = reader.value('OTEL_EXPORTER_OTLP_ENDPOINT', parseHttpUrl);
  const ratio = reader.value('OTEL_TRACES_SAMPLER_ARG', parseRatio) ?? 1;
  return endpoint === undefined ? undefined : { endpoint, ratio };
}
