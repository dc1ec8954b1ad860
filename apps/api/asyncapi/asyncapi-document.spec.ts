import specs from '@asyncapi/specs';
import { Ajv } from 'ajv';
import addFormats from 'ajv-formats';
import { STATION_EVENT_TYPES } from '../../../libs/domain/events/station-event.js';
import { EVENT_SCHEMAS } from '../../../libs/ledger/intake/event-schema.js';
import { removalEvent, sampleEvent } from '../spec-support/sample-setup.js';
import { startApi } from '../spec-support/start-api.js';
import { asyncApiDocument } from './asyncapi-document.js';

interface Document extends Record<string, unknown> {
  channels: Record<string, { address: string; messages: Record<string, unknown> }>;
  components: { schemas: Record<string, object>; messages: Record<string, { payload: object }> };
}

const document = asyncApiDocument() as Document;

function faultsOf(value: unknown): unknown {
  const ajv = new Ajv({ strict: false });
  addFormats.default(ajv);
  const schema: Record<string, unknown> = { ...specs.schemasWithoutId['3.0.0'] };
  const fits = ajv.compile(schema);
  return fits(value) ? null : fits.errors;
}

/** Every `$ref` in a value. */
function refsIn(value: unknown): string[] {
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, member]) => {
    return key === '$ref' && typeof member === 'string' ? [member] : refsIn(member);
  });
}

function at(pointer: string): unknown {
  return pointer
    .replace(/^#\//, '')
    .split('/')
    .reduce<unknown>((value, key) => {
      return typeof value === 'object' && value !== null ? new Map(Object.entries(value)).get(key) : undefined;
    }, document);
}

describe('/asyncapi.json', () => {
  it('is served without a key', async () => {
    const api = await startApi();
    try {
      expect((await api.ask('GET', '/asyncapi.json', { key: null })).body).toEqual(document);
    } finally {
      await api.close();
    }
  });

  it('is AsyncAPI 3.0, by the schema of AsyncAPI itself', () => {
    expect(document['asyncapi']).toBe('3.0.0');
    expect(faultsOf(document)).toBeNull();
    // The schema tells what is none.
    const { action, ...operation } = at('#/operations/publishEvents') as Record<string, unknown>;
    expect(action).toBe('receive');
    expect(faultsOf({ ...document, operations: { publishEvents: operation } })).not.toBeNull();
  });

  it('refers to nothing that it does not have', () => {
    const refs = [...new Set(refsIn(document))];
    expect(refs.length).toBeGreaterThan(2 * STATION_EVENT_TYPES.length);
    expect(refs.filter((ref) => at(ref) === undefined)).toEqual([]);
  });

  it('says of events what the intake checks', () => {
    for (const type of STATION_EVENT_TYPES) {
      expect(document.components.schemas[type]).toEqual(JSON.parse(JSON.stringify(EVENT_SCHEMAS[type])));
      expect(at(`#/channels/mqttEvents/messages/${type}`)).toEqual({ $ref: `#/components/messages/${type}` });
      expect(at(`#/channels/httpEvents/messages/${type}`)).toEqual({ $ref: `#/components/messages/${type}` });
    }
  });

  it('has messages that a reader of draft 07 can check', () => {
    const ajv = new Ajv({ strict: false });
    addFormats.default(ajv);
    ajv.addSchema(document, 'asyncapi');
    const check = (name: string) => ajv.getSchema(`asyncapi#/components/messages/${name}/payload`);
    for (const name of Object.keys(document.components.messages)) expect(check(name)).toBeInstanceOf(Function);
    const removal = check('heatbook.device.removed.v1');
    expect(removal?.(removalEvent())).toBe(true);
    expect(removal?.(removalEvent({ data: {} }))).toBe(false);
    const batch = check('batch');
    const received = sampleEvent('heatbook.unit.received.v1', {});
    expect(batch?.([removalEvent(), received])).toBe(true);
    expect(batch?.([removalEvent(), { ...received, data: { priorReflows: 'two' } }])).toBe(false);
  });
});
