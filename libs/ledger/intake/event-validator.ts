import { Ajv2020, type ErrorObject, type ValidateFunction } from 'ajv/dist/2020.js';
import { fullFormats } from 'ajv-formats/dist/formats.js';
import { StationEventType } from '../../domain/events/station-event.js';
import { EVENT_SCHEMAS } from './event-schema.js';
import { isEventTime } from './event-time.js';

const ajv = new Ajv2020({
  allErrors: true,
  // Errors carry their schema and data, from which they are put into words.
  verbose: true,
  formats: { 'date-time': isEventTime, uri: fullFormats.uri },
  allowUnionTypes: true,
});

const compiled = new Map<StationEventType, ValidateFunction>();

/** Errors of an event by the schema of its type; empty where it fits. Each schema is compiled at its first use. */
export function schemaErrors(type: StationEventType, event: unknown): readonly ErrorObject[] {
  let validate = compiled.get(type);
  if (validate === undefined) {
    validate = ajv.compile(EVENT_SCHEMAS[type]);
    compiled.set(type, validate);
  }
  return validate(event) ? [] : (validate.errors ?? []);
}
