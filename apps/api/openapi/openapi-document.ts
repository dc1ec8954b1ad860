import { INestApplication } from '@nestjs/common';
import { DocumentBuilder, OpenAPIObject, SwaggerModule } from '@nestjs/swagger';
import { stationEventJsonSchema } from '../../../libs/ledger/intake/event-schema.js';
import { PROBLEMS, ProblemCode } from '../http/problem-table.js';
import { ROLES_EXTENSION } from '../identity/roles.js';
import { SESSION_COOKIE } from '../identity/session-cookie.js';
import { ANSWER_SCHEMAS } from './answer-schemas.js';
import { ARCHIVE_SCHEMAS } from './archive-schemas.js';
import { AUDIT_SCHEMAS } from './audit-schemas.js';
import { CLEARANCE_SCHEMAS } from './clearance-schemas.js';
import { CONTAINMENT_SCHEMAS } from './containment-schemas.js';
import { DESK_SCHEMAS } from './desk-schemas.js';
import { HOLD_SCHEMAS } from './hold-schemas.js';
import { IDENTITY_SCHEMAS } from './identity-schemas.js';
import { LIMIT_SCHEMAS } from './limit-schemas.js';
import { LOG_SCHEMAS } from './log-schemas.js';
import { NOTICE_SCHEMAS } from './notice-schemas.js';
import { ref, Schema } from './schema-parts.js';
import { RETENTION_SCHEMAS } from './retention-schemas.js';
import { STREAM_SCHEMAS } from './stream-schemas.js';
import { SUBJECT_SCHEMAS } from './subject-schemas.js';
import { PLAN_SCHEMAS } from './plan-schemas.js';
import { TRACE_SCHEMAS } from './trace-schemas.js';

const BEARER_KEY = 'bearerKey';
const SESSION = 'session';

type Operation = NonNullable<OpenAPIObject['paths'][string]['get']>;

/** The OpenAPI 3.1 document of the routes, with the schemas that station events are checked against. */
export function openApiDocument(app: INestApplication): OpenAPIObject {
  const config = new DocumentBuilder()
    .setTitle('Heatbook')
    .setDescription('Book of record and gate for BGA rework: every heat per serial number, limits judged, holds kept.')
    .setVersion('1')
    .setOpenAPIVersion('3.1.0')
    .addBearerAuth({ type: 'http', scheme: 'bearer', description: 'A key of a station, or of an admin.' }, BEARER_KEY)
    .addCookieAuth(
      SESSION_COOKIE,
      {
        type: 'apiKey',
        in: 'cookie',
        description: 'Of a person who has signed in. What changes something needs X-CSRF-Token beside it.',
      },
      SESSION,
    )
    .build();
  const document = SwaggerModule.createDocument(app, config, { operationIdFactory: (_controller, method) => method });
  const answers = {
    ...ANSWER_SCHEMAS,
    ...ARCHIVE_SCHEMAS,
    ...AUDIT_SCHEMAS,
    ...CLEARANCE_SCHEMAS,
    ...CONTAINMENT_SCHEMAS,
    ...DESK_SCHEMAS,
    ...HOLD_SCHEMAS,
    ...IDENTITY_SCHEMAS,
    ...LIMIT_SCHEMAS,
    ...LOG_SCHEMAS,
    ...NOTICE_SCHEMAS,
    ...PLAN_SCHEMAS,
    ...RETENTION_SCHEMAS,
    ...STREAM_SCHEMAS,
    ...SUBJECT_SCHEMAS,
    ...TRACE_SCHEMAS,
  };
  const schemas = { ...document.components?.schemas, ...answers, ...eventSchemas() };
  for (const operation of operationsOf(document)) {
    if (ROLES_EXTENSION in operation) operation.security = [{ [BEARER_KEY]: [] }, { [SESSION]: [] }];
    addCommonProblems(operation);
  }
  const postEvents = document.paths['/v1/events']?.post;
  if (postEvents !== undefined) postEvents.requestBody = { required: true, content: eventBodies() };
  return { ...document, components: { ...document.components, schemas } };
}

function operationsOf(document: OpenAPIObject): Operation[] {
  return Object.values(document.paths).flatMap(({ get, put, post, delete: remove }) => {
    return [get, put, post, remove].filter((operation) => operation !== undefined);
  });
}

/** Problems that any route may answer with. */
function addCommonProblems(operation: Operation): void {
  const needsKey = operation.security !== undefined;
  const codes: ProblemCode[] = needsKey ? ['key-required', 'not-allowed', 'unavailable', 'internal'] : ['internal'];
  for (const code of codes) {
    const { status, title } = PROBLEMS[code];
    operation.responses[status] ??= {
      description: `${code}: ${title}`,
      content: { 'application/problem+json': { schema: ref('Problem') } },
    };
  }
}

/** The forms in which events come. */
function eventBodies(): Record<string, { schema: Schema }> {
  const one = ref('StationEvent');
  const many = { type: 'array', items: one };
  return {
    'application/cloudevents+json': { schema: one },
    'application/cloudevents-batch+json': { schema: many },
    'application/x-ndjson': { schema: { type: 'string', description: 'One station event a line.' } },
    'application/json': { schema: { oneOf: [one, many] } },
  };
}

/** The schema of station events with its parts as components of the document. */
function eventSchemas(): Record<string, Schema> {
  const { $defs, ...event } = withComponentRefs(stationEventJsonSchema()) as Schema & { $defs: Record<string, Schema> };
  delete event['$schema'];
  return { ...$defs, StationEvent: event };
}

function withComponentRefs(value: unknown): unknown {
  if (typeof value === 'string') return value.replace(/^#\/\$defs\//, '#/components/schemas/');
  if (Array.isArray(value)) return value.map(withComponentRefs);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, member]) => [key, withComponentRefs(member)]));
}
