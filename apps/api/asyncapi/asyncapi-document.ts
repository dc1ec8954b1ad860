import { STATION_EVENT_TYPES } from '../../../libs/domain/events/station-event.js';
import { stationEventJsonSchema } from '../../../libs/ledger/intake/event-schema.js';
import { SAFE_NAME_PATTERN } from '../../../libs/ledger/intake/field-schemas.js';
import { EVENTS_PATH } from '../http/body-parsers.js';
import { STATION_TOPICS } from '../mqtt/station-topics.js';
import { ANSWER_SCHEMAS } from '../openapi/answer-schemas.js';
import { ref, Schema } from '../openapi/schema-parts.js';

const MOST_IN_BATCH = 1000;
/** Members of schemas here mean the same in drafts 07 and 2020-12; AsyncAPI's own schemas are a superset of draft 07. */
const MQTT_BINDING = { bindingVersion: '0.2.0' };
const HTTP_BINDING = { bindingVersion: '0.3.0' };
/** Channels by name, and the message that holds many events. */
const [HTTP, MQTT, ANSWERS, REFUSED, BATCH] = ['httpEvents', 'mqttEvents', 'mqttAnswers', 'mqttRefused', 'batch'];

/** The AsyncAPI 3.0 document of station events, with the very schemas that the intake checks them against. */
export function asyncApiDocument(): Schema {
  const { $defs: events } = stationEventJsonSchema() as { $defs: Record<string, Schema> };
  return {
    asyncapi: '3.0.0',
    info: {
      title: 'Heatbook station events',
      version: '1',
      description:
        'What stations say of the boards they work on: CloudEvents 1.0, structured JSON, over HTTP or MQTT. An event is known by its source and id: it may be sent again, and counts once.',
    },
    defaultContentType: 'application/json',
    servers: servers(),
    channels: channels(),
    operations: operations(),
    components: {
      messages: messages(),
      schemas: { ...events, Acceptance: ANSWER_SCHEMAS['Acceptance'], Problem: ANSWER_SCHEMAS['Problem'] },
      securitySchemes: { stationKey: { type: 'http', scheme: 'bearer', description: 'The key of the station.' } },
    },
  };
}

function servers(): Schema {
  const host = (where: string, byDefault: string) => ({
    host: '{host}',
    variables: { host: { default: byDefault, description: `Where ${where} is in your house.` } },
  });
  return {
    service: { ...host('the service', '127.0.0.1:3000'), protocol: 'http', description: 'Behind a proxy, by https.' },
    broker: {
      ...host('the broker', '127.0.0.1:1883'),
      ...{ protocol: 'mqtt', protocolVersion: '5' },
      description: 'The broker that MQTT_URL names; MQTT 3.1.1 works too. The broker decides who may publish where.',
    },
  };
}

function channels(): Schema {
  const all = Object.fromEntries([...STATION_EVENT_TYPES, BATCH].map((name) => [name, message(name)]));
  const station = { description: `Name of the station: ${SAFE_NAME_PATTERN}` };
  const ofBroker = { parameters: { station }, servers: [{ $ref: '#/servers/broker' }] };
  return {
    [HTTP]: {
      address: EVENTS_PATH,
      servers: [{ $ref: '#/servers/service' }],
      messages: { ...all, answer: message('answer') },
    },
    [MQTT]: { address: STATION_TOPICS.events, ...ofBroker, messages: all },
    [ANSWERS]: { address: STATION_TOPICS.answers, ...ofBroker, messages: { answer: message('answer') } },
    [REFUSED]: { address: STATION_TOPICS.refused, ...ofBroker, messages: { refused: message('refused') } },
  };
}

function operations(): Schema {
  const eventsOf = (channel: string) => [...STATION_EVENT_TYPES, BATCH].map((name) => inChannel(channel, name));
  const atLeastOnce = { bindings: { mqtt: { qos: 1, ...MQTT_BINDING } } };
  return {
    postEvents: {
      ...{ action: 'receive', channel: channel(HTTP), messages: eventsOf(HTTP) },
      summary: '202 is sent after the events are committed.',
      security: [{ $ref: '#/components/securitySchemes/stationKey' }],
      bindings: { http: { method: 'POST', ...HTTP_BINDING } },
      reply: { channel: channel(HTTP), messages: [inChannel(HTTP, 'answer')] },
    },
    publishEvents: {
      ...{ action: 'receive', channel: channel(MQTT), messages: eventsOf(MQTT), ...atLeastOnce },
      summary:
        'A message is acknowledged to the broker after its events are committed; the station learns that by the answer.',
      reply: { channel: channel(ANSWERS), messages: [inChannel(ANSWERS, 'answer')] },
    },
    publishRefused: {
      ...{ action: 'send', channel: channel(REFUSED), messages: [inChannel(REFUSED, 'refused')], ...atLeastOnce },
      summary: 'A message that was refused in whole or in part, as it came.',
    },
  };
}

function messages(): Schema {
  const events = STATION_EVENT_TYPES.map((type) => {
    return [type, { name: type, contentType: 'application/cloudevents+json', payload: ref(type) }] as const;
  });
  const correlation = { mqtt: { correlationData: { description: 'As it came with the events.' }, ...MQTT_BINDING } };
  return {
    ...Object.fromEntries(events),
    [BATCH]: {
      ...{
        name: BATCH,
        contentType: 'application/cloudevents-batch+json',
        summary: 'Many events, each judged by itself.',
      },
      payload: { type: 'array', maxItems: MOST_IN_BATCH, items: { oneOf: STATION_EVENT_TYPES.map(ref) } },
    },
    answer: {
      ...{ name: 'answer', payload: ref('Acceptance'), bindings: correlation },
      summary: 'What became of each event. By HTTP a lone event that is refused is answered by its problem instead.',
    },
    refused: { name: 'refused', summary: 'Whatever came.', payload: {} },
  };
}

function message(name: string): { $ref: string } {
  return { $ref: `#/components/messages/${name}` };
}

function channel(name: string): { $ref: string } {
  return { $ref: `#/channels/${name}` };
}

function inChannel(name: string, messageName: string): { $ref: string } {
  return { $ref: `#/channels/${name}/messages/${messageName}` };
}
