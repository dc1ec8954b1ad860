import { AcceptedEvents } from '../../libs/ledger/intake/accept-events.js';
import { Problem } from '../../libs/ledger/intake/problems.js';
import { brokerConnected } from '../support/broker-connected.js';
import { aedesBroker, brokerConfig, mosquittoBroker, OpenBroker } from '../support/mqtt-brokers.js';
import { MqttStation } from '../support/mqtt-station.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import { describeIntakeDoor, IntakeDoor } from './intake-doors.contract.js';

describeIntakeDoor('HTTP', { namesType: true }, httpDoor);
describeIntakeDoor('MQTT 3.1.1', { namesType: false }, () => mqttDoor(aedesBroker));
describeIntakeDoor('MQTT 5', { namesType: true }, () => mqttDoor(mosquittoBroker));

async function httpDoor(): Promise<IntakeDoor> {
  const house = await runningHouse();
  const keys = new Map<string, Promise<string>>();
  return {
    house,
    send: async (station, payload, type = 'application/json') => {
      const issued = keys.get(station) ?? stationKey(house, station);
      keys.set(station, issued);
      const headers = { authorization: `Bearer ${await issued}`, 'content-type': type };
      const answer = await fetch(`${house.url}/v1/events`, { method: 'POST', headers, body: payload });
      if (answer.status === 202) return (await answer.json()) as AcceptedEvents;
      const problem = (await answer.json()) as Problem;
      return { accepted: 0, duplicates: 0, rejected: 1, items: [{ id: null, state: 'rejected', problem }] };
    },
    close: () => house.close(),
  };
}

async function stationKey(house: RunningHouse, station: string): Promise<string> {
  await house.call('PUT', `/v1/stations/${station}`, { kind: 'bench' });
  const { body } = await house.call('POST', `/v1/stations/${station}/keys`);
  return String(body['key']);
}

async function mqttDoor(open: OpenBroker): Promise<IntakeDoor> {
  const broker = await open();
  const house = await runningHouse(undefined, { serving: { mqtt: brokerConfig(broker) } });
  await brokerConnected(house.url);
  const sender = await MqttStation.open(broker);
  return {
    house,
    send: (station, payload, type) => sender.send(station, payload, type === undefined ? {} : { contentType: type }),
    close: async () => {
      await sender.close();
      await house.close();
      await broker.close();
    },
  };
}
