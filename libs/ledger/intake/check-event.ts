import { EVENT_SUBJECTS, STATION_EVENT_TYPES, StationEventType } from '../../domain/events/station-event.js';
import { parseStream, StreamKey } from '../../domain/subject/subject.js';
import { JsonValue } from '../ports/seal.js';
import { describeFault, shown } from './describe-fault.js';
import { subjectForm } from './event-schema.js';
import { isBefore, isEventTime } from './event-time.js';
import { schemaErrors } from './event-validator.js';
import { nearestWord } from './nearest-word.js';
import { Fault } from './problems.js';
import { findUnfitText } from './unfit-text.js';

/** An event that has the shape of its type. */
export interface CheckedEvent {
  readonly source: string;
  readonly id: string;
  readonly type: StationEventType;
  readonly subject: StreamKey;
  /** The whole event as it was sent, extension attributes included, less attributes that are unset. */
  readonly body: Readonly<Record<string, JsonValue>>;
}

export type EventCheck =
  | { readonly ok: true; readonly event: CheckedEvent }
  /** `total` counts the faults that were found; `faults` are the first of them. */
  | { readonly ok: false; readonly faults: readonly Fault[]; readonly total: number };

/** How many faults of one event are told. */
export const MOST_FAULTS = 20;

type Members = Readonly<Record<string, unknown>>;

/**
 * Checks one event, given as parsed JSON that is nested no deeper than MOST_NESTED, against the schema of its type and
 * what a schema cannot say: that its subject is of a kind the type may be about, that no heat or bake ends before it
 * began, and that its text can be stored.
 */
export function checkEvent(value: unknown): EventCheck {
  if (!isObject(value))
    return refused([{ pointer: '', detail: `An event is a JSON object, but this is ${shown(value)}.` }]);
  const event = withoutUnset(value);
  const { type } = event;
  if (!isEventType(type)) return refused([{ pointer: '/type', detail: unknownType(type) }]);
  const errors = schemaErrors(type, event);
  const faults = [
    ...errors.slice(0, MOST_FAULTS).map(describeFault),
    ...subjectFaults(type, event['subject']),
    ...timeFaults(event['data']),
    ...targetFaults(event['subject'], event['data']),
    ...findUnfitText(event, MOST_FAULTS),
  ];
  if (faults.length > 0) return refused(faults, faults.length + Math.max(0, errors.length - MOST_FAULTS));
  // The schema has just established that these are what they are said to be.
  const { source, id, subject } = event as { source: string; id: string; subject: string };
  return { ok: true, event: { source, id, type, subject, body: event as Readonly<Record<string, JsonValue>> } };
}

function refused(faults: readonly Fault[], total = faults.length): EventCheck {
  return { ok: false, faults: faults.slice(0, MOST_FAULTS), total };
}

/** CloudEvents JSON format 1.0, 3.1: an attribute that is null is as good as left out. */
function withoutUnset(event: Members): Members {
  if (!Object.values(event).includes(null)) return event;
  const isUnset = ([name, value]: [string, unknown]): boolean =>
    value === null && name !== 'data' && /^[a-z0-9]+$/.test(name);
  return Object.fromEntries(Object.entries(event).filter((member) => !isUnset(member)));
}

function unknownType(type: unknown): string {
  const known = `Known types are: ${STATION_EVENT_TYPES.join(', ')}.`;
  if (type === undefined) return `The member "type" is missing. ${known}`;
  const nearest = typeof type === 'string' ? nearestWord(type, STATION_EVENT_TYPES) : undefined;
  const hint = nearest === undefined ? '' : ` Did you mean "${nearest}"?`;
  return `There is no event type ${shown(type)}.${hint} ${known}`;
}

function subjectFaults(type: StationEventType, subject: unknown): Fault[] {
  if (typeof subject !== 'string') return [];
  const kind = parseStream(subject)?.kind;
  if (kind !== undefined && EVENT_SUBJECTS[type].includes(kind)) return [];
  const given = kind === undefined ? shown(subject) : `${shown(subject)}, which is a ${kind}`;
  return [{ pointer: '/subject', detail: `The subject of ${type} is ${subjectForm(type)}, but this is ${given}.` }];
}

/** A bake has its times in the data itself, everything else in its heat. */
function timeFaults(data: unknown): Fault[] {
  if (!isObject(data)) return [];
  return [...spanFaults(data, '/data'), ...(isObject(data['heat']) ? spanFaults(data['heat'], '/data/heat') : [])];
}

/** An inspection must say where it looked, or its result could be put down to nothing. */
function targetFaults(subject: unknown, data: unknown): Fault[] {
  const target = isObject(data) ? data['target'] : undefined;
  if (!isObject(target) || typeof subject !== 'string') return [];
  const { kind, refdes, device } = target;
  const pointer = '/data/target';
  if (kind === 'site' && refdes === undefined) {
    return [{ pointer, detail: 'A target of kind "site" needs the refdes of the site.' }];
  }
  const ofUnit = parseStream(subject)?.kind === 'unit';
  if (kind === 'device' && ofUnit && refdes === undefined && device === undefined) {
    return [{ pointer, detail: 'A target of kind "device" on a unit needs a refdes or the name of the device.' }];
  }
  return [];
}

function spanFaults({ startedAt, endedAt }: Members, pointer: string): Fault[] {
  if (!isTimeText(startedAt) || !isTimeText(endedAt) || !isBefore(endedAt, startedAt)) return [];
  return [{ pointer: `${pointer}/endedAt`, detail: `It ends at ${endedAt}, before it began at ${startedAt}.` }];
}

function isTimeText(value: unknown): value is string {
  return typeof value === 'string' && isEventTime(value);
}

function isEventType(type: unknown): type is StationEventType {
  return typeof type === 'string' && Object.hasOwn(EVENT_SUBJECTS, type);
}

function isObject(value: unknown): value is Members {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
