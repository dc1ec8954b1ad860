import { connect, type IClientOptions, type IPublishPacket, type MqttClient } from 'mqtt';
import { MqttConfig } from '../../../libs/config/load-config.js';
import { Log } from '../../../libs/ledger/ports/log.js';
import { ApiMetrics } from '../metrics/api-metrics.js';
import { MqttDoor, MqttMessage, MqttReply } from './mqtt-door.js';
import { EVENTS_SUBSCRIPTION } from './station-topics.js';

const RETRY_MS = 2_000;
const CONNECT_MS = 10_000;
const KEEPALIVE_S = 30;
/** Messages that the broker may send before the first of them is acknowledged; each comes again after a broken connection. */
const UNACKNOWLEDGED = 16;
/** MQTT 5, 3.1.2.11.2: the session, with the messages that wait in it, does not expire. */
const FOR_GOOD = 0xffffffff;
const STOP_MS = 3_000;

interface LinkDeps {
  readonly door: Pick<MqttDoor, 'take'>;
  readonly metrics: Pick<ApiMetrics, 'countMessage' | 'setBrokerConnected'>;
  readonly log: Log;
  /** Milliseconds from a broken connection to the next try. */
  readonly retryMs?: number;
}

/**
 * The connection to the broker, one message at a time. A message is acknowledged once what it brought is durable and its answer
 * sent. One that cannot be taken in now is not acknowledged, and the connection given up: a broker sends again what is
 * not acknowledged when the session goes on over a new connection, and only then.
 */
export class MqttLink {
  private readonly client: MqttClient;
  /** Replies that the broker has not acknowledged. */
  private readonly replying = new Set<Promise<unknown>>();
  private atHand: Promise<void> = Promise.resolve();
  private isStopping = false;
  /** Why the connection ends, where we know. */
  private reason: string | undefined;
  private lastTrouble: string | undefined;
  /** Whether messages are left at the broker, since they cannot be taken in. */
  private isReturning = false;

  constructor(
    config: MqttConfig,
    private readonly deps: LinkDeps,
  ) {
    // Mosquitto for one says no more to a client whose name another one comes with.
    const unsaid = `the connection ended: the broker stopped, or another process has the MQTT_CLIENT_ID ${config.clientId}`;
    this.client = connect(clientOptions(config, deps.retryMs ?? RETRY_MS));
    this.client.handleMessage = (packet, done) => {
      this.atHand = this.handle(packet, done);
    };
    this.client.on('connect', () => {
      this.subscribe();
    });
    this.client.on('error', (error) => {
      this.reason = error.message;
    });
    this.client.on('disconnect', ({ reasonCode }) => {
      this.reason = `the broker ended the connection with reason code ${reasonCode ?? 0}`;
    });
    this.client.on('close', () => {
      deps.metrics.setBrokerConnected(false);
      if (!this.isStopping && !this.isReturning) this.complain(this.reason ?? unsaid);
      this.reason = undefined;
    });
  }

  /** Takes no more messages, ends with the one at hand, and leaves; what was not acknowledged waits at the broker. */
  async stop(): Promise<void> {
    this.isStopping = true;
    const isSettled = await within(STOP_MS, this.settled());
    // Otherwise the client would wait for what is not done, or for a broker that is away.
    await this.client.endAsync(!isSettled || !this.client.connected);
  }

  private async settled(): Promise<void> {
    await this.atHand;
    await Promise.all(this.replying);
  }

  private async handle(packet: IPublishPacket, done: (error?: Error) => void): Promise<void> {
    const { stream } = this.client;
    if (this.isStopping || stream.destroyed) {
      done(new Error('not taken'));
      return;
    }
    try {
      const replies = await this.deps.door.take(messageOf(packet));
      this.isReturning = false;
      // Over another connection its number may be another message's, which would be acknowledged in its place.
      if (this.client.stream !== stream || !this.client.connected) {
        done(new Error('the connection is another one'));
        return;
      }
      // What goes over one connection arrives in its order: no message is acknowledged whose answer did not get there.
      for (const reply of replies) this.publish(reply);
      done();
    } catch (error) {
      this.giveBack(packet, error);
      // Without an acknowledgement; the client goes on, and finds the connection destroyed.
      stream.destroy();
      done(new Error('not taken'));
    }
  }

  private giveBack({ qos, topic }: IPublishPacket, error: unknown): void {
    const { log, metrics } = this.deps;
    metrics.countMessage('returned');
    if (qos === 0) log.error('A message without acknowledgement (QoS 0) was lost.', { topic });
    // Once per outage: every try would repeat it.
    if (!this.isReturning) log.error('Messages by MQTT cannot be taken in; they come again.', { error: String(error) });
    this.isReturning = true;
  }

  private publish({ topic, payload, contentType, correlationData }: MqttReply): void {
    const properties = {
      ...(contentType !== undefined && { contentType }),
      ...(correlationData !== undefined && { correlationData }),
    };
    const sent = this.client.publishAsync(topic, payload, { qos: 1, properties }).catch((error: unknown) => {
      if (!this.isStopping) this.deps.log.warn('An answer could not be published.', { topic, error: String(error) });
    });
    this.replying.add(sent);
    void sent.finally(() => this.replying.delete(sent));
  }

  /** At every connection: it does no harm, and the session may be new or have been refused before. */
  private subscribe(): void {
    const { stream } = this.client;
    this.client.subscribe(EVENTS_SUBSCRIPTION, { qos: 1 }, (error, granted) => {
      if (this.client.stream !== stream || stream.destroyed) return;
      if (error === null && granted?.[0]?.qos === 1) {
        this.deps.metrics.setBrokerConnected(true);
        this.lastTrouble = undefined;
        if (!this.isReturning) this.deps.log.info('Events are taken from the MQTT broker.');
        return;
      }
      this.reason = `the broker does not grant the subscription to ${EVENTS_SUBSCRIPTION} with QoS 1${error === null ? '' : ` (${error.message})`}`;
      stream.destroy();
    });
  }

  /** Once per trouble: it is tried again every few seconds. */
  private complain(reason: string): void {
    if (this.lastTrouble === reason) return;
    this.lastTrouble = reason;
    this.deps.log.error('No events are taken from the MQTT broker; it is tried again.', { reason });
  }
}

function clientOptions({ broker, clientId, protocolVersion }: MqttConfig, retryMs: number): IClientOptions {
  const { host, port, tls, username, password } = broker;
  return {
    ...{ protocol: tls ? 'mqtts' : 'mqtt', host, port, clientId, protocolVersion, protocolId: 'MQTT' },
    ...(username !== undefined && { username }),
    ...(password !== undefined && { password }),
    ...{
      clean: false,
      resubscribe: false,
      reconnectPeriod: retryMs,
      connectTimeout: CONNECT_MS,
      keepalive: KEEPALIVE_S,
    },
    // A broker that refuses us now may have been set up anew by the next try.
    reconnectOnConnackError: true,
    ...(protocolVersion === 5 && { properties: { sessionExpiryInterval: FOR_GOOD, receiveMaximum: UNACKNOWLEDGED } }),
  };
}

function messageOf({ topic, payload, properties }: IPublishPacket): MqttMessage {
  return {
    topic,
    payload: typeof payload === 'string' ? Buffer.from(payload) : payload,
    contentType: properties?.contentType,
    responseTopic: properties?.responseTopic,
    correlationData: properties?.correlationData,
  };
}

/** Whether the work was done in time. */
async function within(ms: number, work: Promise<unknown>): Promise<boolean> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<false>((resolve) => {
    timer = setTimeout(resolve, ms, false);
  });
  const isDone = await Promise.race([work.then(() => true), late]);
  clearTimeout(timer);
  return isDone;
}
