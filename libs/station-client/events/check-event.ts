import { EventFault } from '../event-fault.js';
import { EVENT_SCHEMAS } from './event-schemas.js';
import { EVENT_SUBJECTS, type StationEventType } from './station-event-data.js';
import { isObject, schemaFaults, shown } from './schema-faults.js';

/** How many faults of one event are told. */
const MOST_FAULTS = 20;
const SUBJECTS = { unit: '{assembly}/{serial}', device: 'devices/{device}', station: 'stations/{station}' };
const NAME = /^(?!(?:__proto__|\.{1,2})$)[A-Za-z0-9._:-]{1,64}$/;
/** Text that JSON can carry and Heatbook cannot keep: NUL, and half of a surrogate pair. */
const UNFIT = /\0|\p{Cs}/u;

/**
 * Looks at an event as the intake of Heatbook of the same version does, by the same schemas: empty where it is right. Heatbook's own
 * verdict counts; this one comes before the event is kept.
 */
export function checkEvent(event: unknown): readonly EventFault[] {
  if (!isObject(event)) return [{ pointer: '', detail: `An event is an object, but this is ${shown(event)}.` }];
  const { type } = event;
  if (!isKnown(type)) return [{ pointer: '/type', detail: unknownType(type) }];
  const schema = EVENT_SCHEMAS[type] ?? {};
  const faults = [
    ...schemaFaults(withoutUnset(event), schema),
    ...subjectFaults(type, event['subject']),
    ...dataFaults(event['subject'], event['data']),
    ...unfitText(event, ''),
  ];
  return faults.slice(0, MOST_FAULTS);
}

function isKnown(type: unknown): type is StationEventType {
  return typeof type === 'string' && Object.hasOwn(EVENT_SUBJECTS, type);
}

function unknownType(type: unknown): string {
  const known = Object.keys(EVENT_SUBJECTS).join(', ');
  return type === undefined
    ? `The member "type" is missing. Known types are: ${known}.`
    : `There is no event type ${shown(type)}. Known types are: ${known}.`;
}

/** CloudEvents: an attribute that is null is as good as left out. */
function withoutUnset(event: Readonly<Record<string, unknown>>): Readonly<Record<string, unknown>> {
  const isUnset = ([name, value]: [string, unknown]): boolean =>
    value === null && name !== 'data' && /^[a-z0-9]+$/.test(name);
  return Object.fromEntries(Object.entries(event).filter((member) => !isUnset(member)));
}

function subjectFaults(type: StationEventType, subject: unknown): EventFault[] {
  if (typeof subject !== 'string') return [];
  const kinds = EVENT_SUBJECTS[type];
  const kind = kindOf(subject);
  if (kind !== undefined && kinds.includes(kind)) return [];
  const wanted = kinds.map((one) => SUBJECTS[one]).join(' or ');
  return [{ pointer: '/subject', detail: `The subject of ${type} is ${wanted}, but this is ${shown(subject)}.` }];
}

function kindOf(subject: string): 'unit' | 'device' | 'station' | undefined {
  const [first = '', second = '', ...more] = subject.split('/');
  if (more.length > 0 || !NAME.test(first) || !NAME.test(second)) return undefined;
  return first === 'devices' ? 'device' : first === 'stations' ? 'station' : 'unit';
}

/** What a schema cannot say: nothing ends before it begins, and an inspection says where it looked. */
function dataFaults(subject: unknown, data: unknown): EventFault[] {
  if (!isObject(data)) return [];
  const { heat, target } = data;
  const spans = [...spanFaults(data, '/data'), ...(isObject(heat) ? spanFaults(heat, '/data/heat') : [])];
  if (!isObject(target)) return spans;
  const { kind, refdes, device } = target;
  const isLost = refdes === undefined && (kind === 'site' || (kind === 'device' && device === undefined));
  const isOfUnit = typeof subject === 'string' && kindOf(subject) === 'unit';
  if (!isLost || (kind === 'device' && !isOfUnit)) return spans;
  const needs = kind === 'site' ? 'the refdes of the site' : 'a refdes or the name of the device';
  return [...spans, { pointer: '/data/target', detail: `A target of kind "${kind}" needs ${needs}.` }];
}

function spanFaults({ startedAt, endedAt }: Readonly<Record<string, unknown>>, pointer: string): EventFault[] {
  if (typeof startedAt !== 'string' || typeof endedAt !== 'string') return [];
  if (!(Date.parse(endedAt) < Date.parse(startedAt))) return [];
  return [{ pointer: `${pointer}/endedAt`, detail: `It ends at ${endedAt}, before it began at ${startedAt}.` }];
}

function unfitText(value: unknown, pointer: string): EventFault[] {
  if (typeof value === 'string') {
    const detail = 'The text has a NUL or half of a surrogate pair in it; leave it out.';
    return UNFIT.test(value) ? [{ pointer, detail }] : [];
  }
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, member]) => unfitText(member, `${pointer}/${name}`));
}
