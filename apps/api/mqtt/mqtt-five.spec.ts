import { until } from '../../../libs/postgres/embedded/processes.js';
import { brokerConfig, INSTALL_MS, mosquittoBroker, TestBroker } from '../../../test/support/mqtt-brokers.js';
import { MqttStation } from '../../../test/support/mqtt-station.js';
import { MqttMessage } from './mqtt-door.js';
import { MqttLink } from './mqtt-link.js';

const EVENTS = 'heatbook/stations/HG-1/events';
const ANSWERS = 'heatbook/stations/HG-1/answers';
const PATIENCE_MS = 20_000;
const MESSAGES = 40;

/** A link whose door takes everything at once and answers with the text of the message, and what became of it. */
interface OpenLink {
  readonly link: MqttLink;
  readonly taken: MqttMessage[];
  readonly lines: string[];
  isConnected: boolean;
}

describe('the link by MQTT 5', () => {
  let broker: TestBroker;
  let station: MqttStation;
  let links: OpenLink[];

  beforeEach(async () => {
    broker = await mosquittoBroker();
    station = await MqttStation.open(broker);
    links = [];
  }, INSTALL_MS);

  afterEach(async () => {
    await Promise.all(links.map(({ link }) => link.stop()));
    await station.close();
    await broker.close();
  });

  async function open(clientId: string): Promise<OpenLink> {
    const taken: MqttMessage[] = [];
    const lines: string[] = [];
    const write = (message: string, details?: object): void => void lines.push(`${message} ${JSON.stringify(details)}`);
    const state = { isConnected: false };
    const link = new MqttLink(brokerConfig(broker, clientId), {
      door: {
        take: (message) => {
          taken.push(message);
          const { correlationData, responseTopic = ANSWERS, payload } = message;
          return Promise.resolve([{ topic: responseTopic, payload, correlationData, contentType: 'application/json' }]);
        },
      },
      metrics: { countMessage: () => undefined, setBrokerConnected: (is) => void (state.isConnected = is) },
      log: { info: write, warn: write, error: write },
      retryMs: 20,
    });
    const opened = Object.assign(state, { link, taken, lines });
    links.push(opened);
    await holds(() => opened.isConnected);
    return opened;
  }

  async function holds(condition: () => boolean): Promise<void> {
    expect(await until(condition, PATIENCE_MS)).toBe(true);
  }

  it('hands on what a message brings along, and gives it back with the answer', async () => {
    const { taken } = await open('five-1');
    const correlationData = Buffer.from([0, 255, 7]);
    const responseTopic = `${ANSWERS}/bench-2`;
    const contentType = 'application/cloudevents+json';
    await station.publish(EVENTS, 'one', { contentType, correlationData, responseTopic });
    const answer = await station.nth(responseTopic, 0);
    expect(answer.properties).toMatchObject({ correlationData, contentType: 'application/json' });
    expect(taken).toEqual([
      { topic: EVENTS, payload: Buffer.from('one'), contentType, correlationData, responseTopic },
    ]);
  });

  it('shares the messages with other processes, each going to one', async () => {
    const [one, two] = [await open('five-1'), await open('five-2')];
    const texts = Array.from({ length: MESSAGES }, (_, n) => `message ${n}`);
    for (const text of texts) await station.publish(EVENTS, text);
    await station.nth(ANSWERS, MESSAGES - 1);
    const shares = [one, two].map(({ taken }) => taken.map(({ payload }) => String(payload)));
    expect(shares.flat().sort()).toEqual([...texts].sort());
    expect(shares.map((share) => share.length > 0)).toEqual([true, true]);
  });

  it('says that another process may have its name', async () => {
    const first = await open('five-1');
    await open('five-1');
    await holds(() => first.lines.some((text) => text.includes('another process has the MQTT_CLIENT_ID five-1')));
  });
});
