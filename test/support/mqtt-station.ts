import { connectAsync, type IClientPublishOptions, type IPublishPacket, type MqttClient } from 'mqtt';
import { AcceptedEvents } from '../../libs/ledger/intake/accept-events.js';
import { TestBroker } from './mqtt-brokers.js';

const PATIENCE_MS = 60_000;

/** What stations have of a broker: they publish with QoS 1, and hear what is said to them. */
export class MqttStation {
  /** Everything heard so far, oldest first. */
  readonly heard: IPublishPacket[] = [];
  private readonly waiting = new Set<() => void>();
  /** Answers by station that some sender has claimed. */
  private readonly claimed = new Map<string, number>();

  private constructor(private readonly client: MqttClient) {
    client.on('message', (_topic, _payload, packet) => {
      this.heard.push(packet);
      for (const look of this.waiting) look();
    });
  }

  static async open({ port, protocolVersion }: TestBroker): Promise<MqttStation> {
    const client = await connectAsync({ protocol: 'mqtt', host: '127.0.0.1', port, protocolVersion });
    const station = new MqttStation(client);
    await client.subscribeAsync(['heatbook/stations/+/answers/#', 'heatbook/stations/+/refused'], { qos: 1 });
    return station;
  }

  /** Publishes, and resolves when the broker has it. */
  async publish(
    topic: string,
    payload: string | Buffer,
    properties?: IClientPublishOptions['properties'],
  ): Promise<void> {
    await this.client.publishAsync(topic, payload, { qos: 1, properties });
  }

  /** Publishes on the topic of a station and waits for the answer: answers come in the order of the messages. */
  async send(
    station: string,
    payload: string | Buffer,
    properties?: IClientPublishOptions['properties'],
  ): Promise<AcceptedEvents> {
    const place = this.claimed.get(station) ?? 0;
    this.claimed.set(station, place + 1);
    await this.publish(`heatbook/stations/${station}/events`, payload, properties);
    const answer = await this.nth(`heatbook/stations/${station}/answers`, place);
    return JSON.parse(String(answer.payload)) as AcceptedEvents;
  }

  /** The answers to a station that were heard until now. */
  answers(station: string): AcceptedEvents[] {
    return this.on(`heatbook/stations/${station}/answers`).map(
      ({ payload }) => JSON.parse(String(payload)) as AcceptedEvents,
    );
  }

  /** The message that is the n-th on a topic, from 0. @throws Error where it does not come */
  async nth(topic: string, place: number): Promise<IPublishPacket> {
    await this.until(() => this.on(topic).length > place, `message ${place} on ${topic}`);
    const found = this.on(topic)[place];
    if (found === undefined) throw new Error('it was there a moment ago');
    return found;
  }

  /** Waits until what was heard makes it true. */
  async until(condition: () => boolean, what: string): Promise<void> {
    if (condition()) return;
    await new Promise<void>((resolve, reject) => {
      const look = (): void => {
        if (condition()) end(resolve);
      };
      const timer = setTimeout(() => {
        end(() => {
          reject(new Error(`${what} did not come within ${PATIENCE_MS} ms`));
        });
      }, PATIENCE_MS);
      const end = (settle: () => void): void => {
        clearTimeout(timer);
        this.waiting.delete(look);
        settle();
      };
      this.waiting.add(look);
    });
  }

  async close(): Promise<void> {
    await this.client.endAsync(true);
  }

  private on(topic: string): IPublishPacket[] {
    return this.heard.filter((packet) => packet.topic === topic);
  }
}
