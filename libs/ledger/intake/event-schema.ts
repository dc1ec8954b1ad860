import { TObject, Type } from '@sinclair/typebox';
import { EVENT_SUBJECTS, STATION_EVENT_TYPES, StationEventType } from '../../domain/events/station-event.js';
import { EVENT_DATA_SCHEMAS } from './event-data-schemas.js';
import { record, SAFE_NAME_PATTERN, time } from './field-schemas.js';

/** Members of an event that are not extension attributes. */
export const EVENT_MEMBERS = [
  'specversion',
  'type',
  'source',
  'id',
  'subject',
  'time',
  'datacontenttype',
  'dataschema',
  'data',
] as const;

export const SOURCE_PATTERN = SAFE_NAME_PATTERN.replace('^', '^/stations/');

/** Anything that can be seen or is a plain space: no control, format or line-separating character. */
export const ID_PATTERN = '^[^\\p{Cc}\\p{Cf}\\p{Cs}\\p{Zl}\\p{Zp}]*$';

/** CloudEvents 1.0: lower-case letters and digits, and it recommends no more than 20 of them. */
export const EXTENSION_PATTERN = `^(?!(?:${EVENT_MEMBERS.join('|')})$)[a-z0-9]{1,20}$`;

const MOST_EXTENSIONS = 32;

const SUBJECT_FORMS = {
  unit: '{assembly}/{serial}',
  device: 'devices/{device}',
  station: 'stations/{station}',
};

/** How the subject of an event of this type is written, in words: `{assembly}/{serial} or devices/{device}`. */
export function subjectForm(type: StationEventType): string {
  return EVENT_SUBJECTS[type].map((kind) => SUBJECT_FORMS[kind]).join(' or ');
}

function eventSchema(type: StationEventType): TObject {
  const data: TObject = EVENT_DATA_SCHEMAS[type];
  const members = {
    specversion: Type.Literal('1.0', { description: 'Version of CloudEvents' }),
    type: Type.Literal(type, { description: 'What happened' }),
    source: Type.String({ pattern: SOURCE_PATTERN, description: 'The station that says so: /stations/{station}' }),
    id: Type.String({
      pattern: ID_PATTERN,
      minLength: 1,
      maxLength: 128,
      description: 'Unique among the events of its source. The same id with the same content is a repeat',
    }),
    subject: Type.String({ maxLength: 129, description: `What it happened to: ${subjectForm(type)}` }),
    time: time('When it happened'),
    datacontenttype: Type.Optional(Type.Literal('application/json', { description: 'Media type of data' })),
    dataschema: Type.Optional(Type.String({ format: 'uri', maxLength: 1024, description: 'Schema of data' })),
    // An event that needs to say nothing but that it happened may come without data.
    data: data.required === undefined ? Type.Optional(data) : data,
  };
  return record(members, {
    title: type,
    description: `Station event ${type}, a CloudEvent 1.0`,
    maxProperties: EVENT_MEMBERS.length + MOST_EXTENSIONS,
    patternProperties: {
      [EXTENSION_PATTERN]: {
        type: ['string', 'number', 'boolean'],
        maxLength: 1024,
        description: 'CloudEvents extension attribute, kept as it is',
      },
    },
  });
}

/** JSON Schema (draft 2020-12) of each station event as a whole. */
export const EVENT_SCHEMAS = Object.fromEntries(STATION_EVENT_TYPES.map((type) => [type, eventSchema(type)])) as Record<
  StationEventType,
  TObject
>;

/** One self-contained JSON Schema of every station event, told apart by `type`. Plain JSON, new at each call. */
export function stationEventJsonSchema(): object {
  const references = STATION_EVENT_TYPES.map((type) => [type, `#/$defs/${type}`] as const);
  const schema = {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    title: 'Station event',
    type: 'object',
    required: ['type'],
    discriminator: { propertyName: 'type', mapping: Object.fromEntries(references) },
    oneOf: references.map(([, $ref]) => ({ $ref })),
    $defs: EVENT_SCHEMAS,
  };
  return JSON.parse(JSON.stringify(schema)) as object;
}
