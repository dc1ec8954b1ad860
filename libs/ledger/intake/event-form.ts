import { readBatch, Reading, readSingle, readStream } from './read-events.js';

/** How events may lie in one message: alone, as a JSON list, or one a line. */
export type EventForm = 'single' | 'batch' | 'stream';

const JSON_TYPE = 'application/json';

const FORMS: Readonly<Record<string, EventForm>> = {
  'application/cloudevents+json': 'single',
  'application/cloudevents-batch+json': 'batch',
  'application/x-ndjson': 'stream',
};

/** Media types that say what form events come in; plain JSON may be either of two. */
export const EVENT_MEDIA_TYPES: readonly string[] = Object.keys(FORMS);

/**
 * The form that events come in. Plain JSON may be either: a list is a batch.
 * @param mediaType with or without parameters
 * @returns undefined for a type that events do not come in
 */
export function eventForm(mediaType: string, text: string): EventForm | undefined {
  const type = (mediaType.toLowerCase().split(';')[0] ?? '').trim();
  if (type === JSON_TYPE) return text.trimStart().startsWith('[') ? 'batch' : 'single';
  return Object.hasOwn(FORMS, type) ? FORMS[type] : undefined;
}

/** Reads a message of station events in the form that it has. */
export function readEvents(form: EventForm, text: string): Reading {
  return READERS[form](text);
}

const READERS: Readonly<Record<EventForm, (text: string) => Reading>> = {
  single: readSingle,
  batch: readBatch,
  stream: readStream,
};
