import { sampleEvent } from '../../apps/api/spec-support/sample-setup.js';
import { until } from '../../libs/postgres/embedded/processes.js';
import { admitConnections } from '../support/admit-connections.js';
import { brokerConnected } from '../support/broker-connected.js';
import { aedesBroker, AedesBroker, brokerConfig } from '../support/mqtt-brokers.js';
import { MqttStation } from '../support/mqtt-station.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';

const PATIENCE_MS = 60_000;
const CLIENT = 'heatbook-1';
const EVENTS = 'heatbook/stations/HG-1/events';

let broker: AedesBroker;
let house: RunningHouse;
let station: MqttStation;
/** What the broker has done with messages of events, in order: sent to the service, or had acknowledged by it. */
let dealt: string[];

beforeAll(async () => {
  broker = await aedesBroker();
  dealt = [];
  broker.aedes.authorizeForward = (_client, packet) => {
    if (packet.topic === EVENTS) dealt.push(`sent ${String(packet.payload.length)}`);
    return packet;
  };
  broker.aedes.on('ack', (packet, { id }) => {
    // Of sessions that do not last, such as a station's here, the broker does not know what they acknowledge.
    if (id === CLIENT && 'topic' in packet) dealt.push(`acknowledged ${String(packet.payload.length)}`);
  });
  house = await runningHouse(undefined, { serving: { mqtt: brokerConfig(broker, CLIENT) } });
  await brokerConnected(house.url);
  station = await MqttStation.open(broker);
}, 120_000);

afterAll(async () => {
  await station.close();
  await house.close();
  await broker.close();
});

it('acknowledges nothing while Postgres is away, and is sent it again until it is kept', async () => {
  const early = JSON.stringify(sampleEvent('heatbook.unit.received.v1', {}));
  const late = JSON.stringify(sampleEvent('heatbook.unit.received.v1', { workOrder: 'while-away' }));
  expect(await station.send('HG-1', early)).toMatchObject({ accepted: 1 });

  await admitConnections(house.databaseUrl, false);
  await station.publish(EVENTS, late);
  // Several connections on, so that it was tried more than once.
  const tries = (): number => dealt.filter((one) => one === `sent ${late.length}`).length;
  expect(await until(() => tries() >= 3, PATIENCE_MS)).toBe(true);
  expect(dealt.filter((one) => one.startsWith('acknowledged'))).toEqual([`acknowledged ${early.length}`]);
  expect(station.answers('HG-1')).toHaveLength(1);

  await admitConnections(house.databaseUrl, true);
  await station.nth('heatbook/stations/HG-1/answers', 1);
  expect(station.answers('HG-1')[1]).toMatchObject({ accepted: 1, duplicates: 0, rejected: 0 });
  expect(await until(() => dealt.at(-1) === `acknowledged ${late.length}`, PATIENCE_MS)).toBe(true);
  expect(dealt.filter((one) => one.startsWith('acknowledged'))).toHaveLength(2);
  const metrics = await (await fetch(`${house.url}/metrics`)).text();
  expect(Number(/^heatbook_mqtt_messages_total\{outcome="returned"\} (\d+)$/m.exec(metrics)?.[1])).toBeGreaterThan(1);
}, 180_000);
