import { once } from 'node:events';
import { setImmediate as immediately } from 'node:timers/promises';
import { until } from '../../../libs/postgres/embedded/processes.js';
import { AedesBroker, aedesBroker, brokerConfig } from '../../../test/support/mqtt-brokers.js';
import { DeafLine, deafLine } from '../../../test/support/deaf-line.js';
import { MqttStation } from '../../../test/support/mqtt-station.js';
import { MqttMessage, MqttReply } from './mqtt-door.js';
import { MqttLink } from './mqtt-link.js';

const CLIENT = 'link-spec';
const EVENTS = 'heatbook/stations/HG-1/events';
const ANSWERS = 'heatbook/stations/HG-1/answers';
const PATIENCE_MS = 20_000;

/** What the link has asked the door for, to be settled by hand. */
interface Asked {
  readonly text: string;
  readonly message: MqttMessage;
  take(): void;
  fail(error: Error): void;
}

let broker: AedesBroker;
let line: DeafLine;
let station: MqttStation;
let link: MqttLink | undefined;
let asked: Asked[];
let outcomes: string[];
let lines: string[];
let connected: boolean[];
/** Payloads that the broker was acknowledged by the link; "unknown" for what it had no message of. */
let acknowledged: string[];

beforeEach(async () => {
  [asked, outcomes, lines, connected, acknowledged] = [[], [], [], [], []];
  broker = await aedesBroker();
  broker.aedes.on('ack', (packet, { id }) => {
    if (id === CLIENT) acknowledged.push(textOf(packet));
  });
  line = await deafLine(broker.port);
  station = await MqttStation.open(broker);
});

afterEach(async () => {
  await link?.stop();
  link = undefined;
  await station.close();
  await line.close();
  await broker.close();
});

/** The broker has no packet for an acknowledgement of what it did not send, whatever its types say. */
function textOf(packet: object | undefined): string {
  return packet !== undefined && 'payload' in packet ? String(packet.payload) : 'unknown';
}

function open(): MqttLink {
  const write = (message: string, details?: object): void => void lines.push(`${message} ${JSON.stringify(details)}`);
  link = new MqttLink(brokerConfig({ ...broker, port: line.port }, CLIENT), {
    door: {
      take: (message) =>
        new Promise<readonly MqttReply[]>((resolve, reject) => {
          const text = String(message.payload);
          const reply = { topic: ANSWERS, payload: JSON.stringify({ items: [{ id: text }] }), contentType: undefined };
          asked.push({
            text,
            message,
            take: () => {
              resolve([reply]);
            },
            fail: reject,
          });
        }),
    },
    metrics: {
      countMessage: (outcome) => void outcomes.push(outcome),
      setBrokerConnected: (is) => void connected.push(is),
    },
    log: { info: write, warn: write, error: write },
    retryMs: 20,
  });
  return link;
}

async function holds(condition: () => boolean): Promise<void> {
  expect(await until(condition, PATIENCE_MS)).toBe(true);
}

async function openConnected(): Promise<MqttLink> {
  const opened = open();
  await holds(() => connected.at(-1) === true);
  return opened;
}

/** The n-th message that the door was asked to take, from 0. */
async function nth(place: number): Promise<Asked> {
  await holds(() => asked.length > place);
  const found = asked[place];
  if (found === undefined) throw new Error('it was there a moment ago');
  return found;
}

it('acknowledges a message when it is taken in, after its answer, and takes one at a time', async () => {
  await openConnected();
  broker.aedes.authorizePublish = (client, _packet, done) => {
    if (client?.id === CLIENT) acknowledged.push('after the answer');
    done(null);
  };
  await station.publish(EVENTS, 'one');
  await station.publish(EVENTS, 'two');
  const one = await nth(0);
  expect([asked.length, acknowledged, station.heard]).toEqual([1, [], []]);
  one.take();
  await station.nth(ANSWERS, 0);
  (await nth(1)).take();
  await holds(() => acknowledged.length === 4);
  expect(asked.map(({ text }) => text)).toEqual(['one', 'two']);
  expect(acknowledged).toEqual(['after the answer', 'one', 'after the answer', 'two']);
  expect(outcomes).toEqual([]);
});

it('leaves what cannot be taken in unacknowledged, is sent it again, and complains once', async () => {
  await openConnected();
  await station.publish(EVENTS, 'one');
  for (const place of [0, 1, 2]) (await nth(place)).fail(new Error('the database is away'));
  (await nth(3)).take();
  await holds(() => acknowledged.length > 0);
  expect(asked.map(({ text }) => text)).toEqual(['one', 'one', 'one', 'one']);
  expect([acknowledged, outcomes]).toEqual([['one'], ['returned', 'returned', 'returned']]);
  expect(lines.filter((text) => text.includes('cannot be taken in'))).toEqual([
    expect.stringContaining('the database is away'),
  ]);
  expect(lines.join()).not.toContain('it is tried again');
});

it('acknowledges nothing over another connection than it came by', async () => {
  await openConnected();
  await station.publish(EVENTS, 'one');
  const first = await nth(0);
  line.cut();
  const again = await nth(1);
  first.take();
  again.take();
  await station.publish(EVENTS, 'two');
  (await nth(2)).take();
  await holds(() => acknowledged.includes('two'));
  expect(acknowledged).toEqual(['one', 'two']);
  expect(station.heard.map(({ payload }) => String(payload))).toEqual([
    '{"items":[{"id":"one"}]}',
    '{"items":[{"id":"two"}]}',
  ]);
});

it('finds a broker that was away, and the messages that waited for it there', async () => {
  const first = await openConnected();
  await first.stop();
  await station.publish(EVENTS, 'while away');
  line.isShut = true;
  open();
  await holds(() => line.refusals > 2);
  line.isShut = false;
  const waited = await nth(0);
  expect(waited.text).toBe('while away');
  waited.take();
  await holds(() => acknowledged.length > 0);
  expect(lines.filter((text) => text.includes('it is tried again'))).toHaveLength(1);
});

it('says that the broker does not grant the subscription, and takes it once it does', async () => {
  const grant = broker.aedes.authorizeSubscribe;
  broker.aedes.authorizeSubscribe = (_client, _subscription, done) => {
    done(null, null);
  };
  open();
  await holds(() => lines.some((text) => text.includes('does not grant the subscription to $share/heatbook/')));
  expect(connected).not.toContain(true);
  broker.aedes.authorizeSubscribe = grant;
  await holds(() => connected.at(-1) === true);
});

it('ends with the message at hand when it stops, and leaves the others at the broker', async () => {
  const opened = await openConnected();
  await station.publish(EVENTS, 'one');
  await station.publish(EVENTS, 'two');
  const one = await nth(0);
  const stopped = opened.stop();
  const left = once(broker.aedes, 'clientDisconnect');
  await immediately();
  one.take();
  await stopped;
  await left;
  expect([acknowledged, asked.length]).toEqual([['one'], 1]);
  open();
  const two = await nth(1);
  expect(two.text).toBe('two');
  two.take();
  await holds(() => acknowledged.length === 2);
});

it('does not wait for ever for a message at hand', async () => {
  const opened = await openConnected();
  await station.publish(EVENTS, 'one');
  await nth(0);
  // Lies in the socket, which does not end before it is read.
  for (const text of ['two', 'three']) await station.publish(EVENTS, text);
  await opened.stop();
  open();
  (await nth(1)).take();
  await holds(() => acknowledged.length === 1);
});
