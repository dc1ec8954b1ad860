import { Ajv2020 } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';
import { ANSWER_SCHEMAS } from './answer-schemas.js';
import { AUDIT_SCHEMAS } from './audit-schemas.js';
import { CLEARANCE_SCHEMAS } from './clearance-schemas.js';
import { DESK_SCHEMAS } from './desk-schemas.js';
import { HOLD_SCHEMAS } from './hold-schemas.js';
import { IDENTITY_SCHEMAS } from './identity-schemas.js';
import { SUBJECT_SCHEMAS } from './subject-schemas.js';
import { PLAN_SCHEMAS } from './plan-schemas.js';
import { TRACE_SCHEMAS } from './trace-schemas.js';
import { addPerson, Browser } from '../spec-support/browser.js';
import { enterSampleSetup, removalEvent, sampleEvent } from '../spec-support/sample-setup.js';
import { SpecApi, startApi } from '../spec-support/start-api.js';

type Json = Record<string, unknown>;

interface Document extends Json {
  openapi: string;
  paths: Record<
    string,
    Record<
      string,
      {
        operationId: string;
        parameters?: { name: string; in: string; required?: boolean }[];
        security?: unknown;
        'x-roles'?: string[];
        responses: Record<string, Json>;
      }
    >
  >;
  components: { schemas: Record<string, Json>; securitySchemes: Json };
}

const OWN_SCHEMAS = {
  ...ANSWER_SCHEMAS,
  ...AUDIT_SCHEMAS,
  ...CLEARANCE_SCHEMAS,
  ...DESK_SCHEMAS,
  ...HOLD_SCHEMAS,
  ...IDENTITY_SCHEMAS,
  ...PLAN_SCHEMAS,
  ...SUBJECT_SCHEMAS,
  ...TRACE_SCHEMAS,
};

/** Every `$ref` in a value. */
function refsIn(value: unknown): string[] {
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, member]) => {
    return key === '$ref' && typeof member === 'string' ? [member] : refsIn(member);
  });
}

function at(document: unknown, pointer: string): unknown {
  const path = pointer.replace(/^#\//, '').split('/');
  return path.reduce<unknown>((value, key) => {
    return typeof value === 'object' && value !== null ? new Map(Object.entries(value)).get(key) : undefined;
  }, document);
}

/** Objects that list their members take no others, so that a member nobody described is noticed. */
function closed(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(closed);
  if (typeof value !== 'object' || value === null) return value;
  const members = Object.fromEntries(Object.entries(value).map(([key, member]) => [key, closed(member)]));
  return 'properties' in value ? { ...members, additionalProperties: false } : members;
}

/** Operations under /v1 that need no caller. */
const OPEN: readonly string[] = ['signIn', 'getLogCheckpoint', 'getLogKeys', 'proveConsistency'];

describe('/openapi.json', () => {
  let api: SpecApi;
  let document: Document;

  beforeAll(async () => {
    api = await startApi();
    const answer = await api.ask('GET', '/openapi.json', { key: null });
    document = answer.body as Document;
    await enterSampleSetup(api);
    await addPerson(api, 'cora', { roles: ['customer'], customer: 'Nordlicht Instruments' });
    const events = [
      sampleEvent('heatbook.unit.received.v1', { workOrder: 'WO-7' }),
      removalEvent({ id: 'removal-1' }),
      removalEvent({ id: 'removal-2' }),
      sampleEvent('heatbook.unit.received.v1', {}, { subject: 'NONE/S1', id: 'parked-1' }),
    ];
    await api.ask('POST', '/v1/events', { body: events });
    const raw = 's,Joint,Die\n0,24,24\n10,150,140\n20,180,170\n30,230,225\n40,150,1372\n';
    await api.ask('PUT', '/v1/traces/t-1', { raw, type: 'text/csv' });
    await api.fold();
  });

  afterAll(() => api.close());

  it('is OpenAPI 3.1 with every route of the contract', () => {
    expect(document.openapi).toBe('3.1.0');
    expect(Object.keys(document.paths)).toEqual(
      expect.arrayContaining([
        '/v1/assemblies/{assembly}',
        '/v1/profiles/{profile}/revisions/{revision}',
        '/v1/stations/{station}/keys',
        '/v1/events',
        '/v1/units/{assembly}/{serial}/audit',
        '/v1/devices/{device}/ledger',
        '/v1/holds/{id}/release',
        '/v1/traces/{trace}',
        '/v1/traces/{trace}/analysis',
        '/health/ready',
      ]),
    );
  });

  it('refers to nothing that it does not have', () => {
    const refs = [...new Set(refsIn(document))];
    expect(refs.length).toBeGreaterThan(30);
    expect(refs.filter((ref) => at(document, ref) === undefined)).toEqual([]);
  });

  it('names each parameter once, whatever its case, and asks for no header', () => {
    for (const [path, operations] of Object.entries(document.paths)) {
      for (const { parameters = [] } of Object.values(operations)) {
        const names = parameters.map(({ in: where, name }) => `${where} ${name.toLowerCase()}`);
        expect([path, ...names]).toEqual([path, ...new Set(names)]);
        expect(parameters.filter(({ in: where, required }) => where === 'header' && required === true)).toEqual([]);
      }
    }
  });

  it('has one operation id for each operation', () => {
    const ids = Object.values(document.paths).flatMap((path) =>
      Object.values(path).map(({ operationId }) => operationId),
    );
    expect(ids).toEqual([...new Set(ids)]);
  });

  it('asks for a key or a session under /v1 but for signing in and figures of the log, says of which roles, and describes the problems of every operation', () => {
    for (const [path, operations] of Object.entries(document.paths)) {
      for (const { operationId, security, responses, 'x-roles': roles } of Object.values(operations)) {
        const needsCaller = path.startsWith('/v1') && !OPEN.includes(operationId);
        expect([path, security !== undefined]).toEqual([path, needsCaller]);
        expect([path, roles !== undefined]).toEqual([path, needsCaller]);
        expect(Object.keys(responses)).toContainEqual(expect.stringMatching(/^[23]/));
        expect(responses['500']).toHaveProperty(['content', 'application/problem+json']);
        if (needsCaller) expect(Object.keys(responses)).toEqual(expect.arrayContaining(['401', '403']));
      }
    }
    expect(document.components.securitySchemes).toHaveProperty('bearerKey.scheme', 'bearer');
    expect(document.components.securitySchemes).toHaveProperty('session.name', 'heatbook_session');
  });

  it('has schemas that compile, those of events among them', () => {
    const ajv = new Ajv2020({ strict: false });
    addFormats.default(ajv);
    ajv.addSchema(document, 'openapi');
    for (const name of Object.keys(document.components.schemas)) {
      expect(ajv.getSchema(`openapi#/components/schemas/${name}`)).toBeInstanceOf(Function);
    }
    const event = ajv.getSchema('openapi#/components/schemas/StationEvent');
    expect(event?.(removalEvent())).toBe(true);
    expect(event?.(sampleEvent('heatbook.unit.received.v1', { priorReflows: 'two' }))).toBe(false);
  });

  it.each([
    ['UnitRow', '/v1/units?limit=1', 'items'],
    ['Unit', '/v1/units/BRD-1/S1', undefined],
    ['Found', '/v1/search?q=BRD', undefined],
    ['Found', '/v1/search?q=S1', undefined],
    ['StationReport', '/v1/station-reports', 'items'],
    ['StationReport', '/v1/station-reports/HG-1', undefined],
    ['StationUnit', '/v1/stations/HG-1/units?from=2030-01-01T00:00:00Z&to=2031-01-01T00:00:00Z', 'items'],
    ['Queue', '/v1/queue', undefined],
    ['Device', '/v1/devices/BRD-1:S1:U1', undefined],
    ['Device', '/v1/devices/BRD-1:S1:U2', undefined],
    ['Entry', '/v1/units/BRD-1/S1/ledger', 'items'],
    ['Audit', '/v1/units/BRD-1/S1/audit', undefined],
    ['Hold', '/v1/holds', 'items'],
    ['HoldSummary', '/v1/holds/summary', undefined],
    ['EventStatus', '/v1/events?source=/stations/HG-1&id=removal-2', undefined],
    ['EventStatus', '/v1/events?source=/stations/HG-1&id=parked-1', undefined],
    ['ParkedEvent', '/v1/events/parked', 'items'],
    ['TraceAnalysis', '/v1/traces/t-1/analysis?liquidusC=217&soakFromC=150&soakToC=200', undefined],
    ['TraceCurve', '/v1/traces/t-1/curve?liquidusC=217', undefined],
    ['TraceCurve', '/v1/traces/t-1/curve', undefined],
    ['Person', '/v1/people', 'items'],
    ['PersonChange', '/v1/people/cora/changes', 'items'],
    ['Readiness', '/health/ready', undefined],
    ['Problem', '/v1/units/BRD-1/NONE', undefined],
  ])('describes as %s exactly what %s answers', async (name, path, member) => {
    const { body } = await api.ask('GET', path);
    const ajv = new Ajv2020({ strict: false });
    addFormats.default(ajv);
    ajv.addSchema({ $id: 'closed', components: { schemas: closed(OWN_SCHEMAS) } });
    const check = ajv.getSchema(`closed#/components/schemas/${name}`);
    const values = member === undefined ? [body] : (at(body, member) as unknown[]);
    expect(values.length).toBeGreaterThan(0);
    for (const value of values) {
      expect({ fits: check?.(value), errors: check?.errors }).toEqual({ fits: true, errors: null });
    }
  });

  it('describes a session exactly', async () => {
    const { body } = await new Browser(api).signIn('cora', 'the long word of cora');
    const ajv = new Ajv2020({ strict: false });
    addFormats.default(ajv);
    ajv.addSchema({ $id: 'closed', components: { schemas: closed(OWN_SCHEMAS) } });
    const check = ajv.getSchema('closed#/components/schemas/Session');
    expect({ fits: check?.(body), errors: check?.errors }).toEqual({ fits: true, errors: null });
  });

  it('describes a clearance and its refusal exactly', async () => {
    const step = { type: 'heatbook.site.heated.v1', refdes: 'U1' };
    const wish = { assembly: 'BRD-1', serial: 'S7', operator: 'ann', station: 'HG-1', steps: [step] };
    const granted = await api.ask('POST', '/v1/clearances', { body: wish });
    const { status, body: refused } = await api.ask('POST', '/v1/clearances', {
      body: { ...wish, serial: 'S1', steps: [{ ...step, type: 'heatbook.device.removed.v1' }] },
    });
    expect([granted.status, status]).toEqual([201, 409]);
    const ajv = new Ajv2020({ strict: false });
    addFormats.default(ajv);
    ajv.addSchema({ $id: 'closed', components: { schemas: closed(OWN_SCHEMAS) } });
    const faults = (name: string, value: unknown): unknown => {
      const check = ajv.getSchema(`closed#/components/schemas/${name}`);
      return check?.(value) === true ? null : check?.errors;
    };
    expect(faults('ClearanceRefusal', refused)).toBeNull();
    const { steps, ...clearance } = granted.body as { steps: { plan: unknown }[] };
    // A plan has whatever was asked for.
    expect(
      faults('Clearance', { ...clearance, steps: steps.map((one) => ({ ...one, plan: { type: step.type } })) }),
    ).toBeNull();
  });

  it('describes the explanation of a hold exactly', async () => {
    const { body } = await api.ask('GET', '/v1/holds');
    const { items } = body as { items: { id: string }[] };
    const ajv = new Ajv2020({ strict: false });
    addFormats.default(ajv);
    ajv.addSchema({ $id: 'closed', components: { schemas: closed(OWN_SCHEMAS) } });
    const check = ajv.getSchema('closed#/components/schemas/ExplainedHold');
    expect(items.length).toBeGreaterThan(1);
    for (const { id } of items) {
      const { body: hold } = await api.ask('GET', `/v1/holds/${id}`);
      expect({ fits: check?.(hold), errors: check?.errors }).toEqual({ fits: true, errors: null });
    }
  });
});
