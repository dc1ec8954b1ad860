import fc from 'fast-check';
import { checkEvent as houseCheck } from '../../ledger/intake/check-event.js';
import { FULL_DATA } from '../../ledger/intake/spec-support/sample-events.js';
import { EVENT_SUBJECTS, type StationEventType } from './station-event-data.js';
import { checkEvent } from './check-event.js';

const TYPES = Object.keys(FULL_DATA) as StationEventType[];
const SUBJECTS = { unit: 'BRD-1/S1', device: 'devices/D-1', station: 'stations/HG-2' };

function fullEvent(type: StationEventType): Record<string, unknown> {
  return {
    specversion: '1.0',
    type,
    source: '/stations/HG-2',
    id: 'e-1',
    subject: SUBJECTS[EVENT_SUBJECTS[type][0] ?? 'unit'],
    time: '2031-05-09T14:06:30.25+02:00',
    datacontenttype: 'application/json',
    shift: 'late',
    data: structuredClone(FULL_DATA[type]),
  };
}

/** Values that are right in some places and wrong in most. */
const VALUES = fc.constantFrom<unknown>(
  ...[null, true, 0, -1, 2.5, 1e9, -300, '', ' ', 'U7', 'a/b', '..', '__proto__', 'x'.repeat(65), 'x'.repeat(3000)],
  ...[
    '\u{1F525}'.repeat(128),
    'NUL\0',
    '\uD800',
    '2031-02-30T00:00:00Z',
    '2031-05-09T14:06:30',
    '2031-05-09T00:00:00Z',
  ],
  ...['0000-01-01T00:00:00Z', 'stations/HG-2', 'devices/D-1', 'BRD-1/S1', 'a/b/c', 'top', 'braid', 'pass', 'site'],
  ...[[], {}, [1], ['P1'], Array.from({ length: 1100 }, () => 'P1'), { refdes: 'U1' }, { kind: 'device' }],
);
const NAMES = fc.constantFrom('note', 'heat', 'refdes', 'extra', 'Extra', 'data_base64', 'x'.repeat(21), 'clearance');

/** Goes down by numbers, and changes what it comes to. */
function spoil(value: unknown, way: readonly number[], change: Change): unknown {
  if (typeof value !== 'object' || value === null) return change.value;
  const entries = Object.entries(value);
  const [step, ...further] = way;
  const [name, member] = entries[(step ?? 0) % Math.max(1, entries.length)] ?? [];
  if (name === undefined || step === undefined) {
    if (change.kind === 'add' && !Array.isArray(value)) return { ...value, [change.name]: change.value };
    return change.value;
  }
  if (further.length === 0 && change.kind === 'remove' && !Array.isArray(value)) {
    return Object.fromEntries(entries.filter(([other]) => other !== name));
  }
  const spoiled = spoil(member, further, change);
  if (Array.isArray(value)) return value.map((item: unknown, n) => (String(n) === name ? spoiled : item));
  return { ...value, [name]: spoiled };
}

interface Change {
  readonly kind: 'put' | 'remove' | 'add';
  readonly name: string;
  readonly value: unknown;
}

const change = fc.record({ kind: fc.constantFrom('put', 'remove', 'add'), name: NAMES, value: VALUES });
const way = fc.array(fc.nat({ max: 30 }), { maxLength: 5 });

it.each(TYPES)('takes a %s with every member, as the intake does', (type) => {
  expect(checkEvent(fullEvent(type))).toEqual([]);
  expect(houseCheck(fullEvent(type)).ok).toBe(true);
});

it('takes and refuses what the intake takes and refuses', () => {
  const verdicts = { taken: 0, refused: 0 };
  fc.assert(
    fc.property(fc.constantFrom(...TYPES), way, change, (type, steps, made) => {
      const event: unknown = JSON.parse(JSON.stringify(spoil(fullEvent(type), steps, made)));
      const faults = checkEvent(event);
      const isTaken = houseCheck(event).ok;
      verdicts[isTaken ? 'taken' : 'refused'] += 1;
      expect({ event, isTaken: faults.length === 0, faults: isTaken ? faults : [] }).toEqual({
        event,
        isTaken,
        faults: [],
      });
    }),
    { numRuns: 1500 },
  );
  expect(verdicts.taken).toBeGreaterThan(200);
  expect(verdicts.refused).toBeGreaterThan(200);
});

it.each<[StationEventType, object, string]>([
  [
    'heatbook.unit.baked.v1',
    { temperatureC: 125, startedAt: '2031-05-09T08:00:00Z', endedAt: '2031-05-09T09:00:00+02:00' },
    '/data/endedAt',
  ],
  ['heatbook.inspection.recorded.v1', { target: { kind: 'site' }, technique: 'xray', result: 'pass' }, '/data/target'],
  [
    'heatbook.inspection.recorded.v1',
    { target: { kind: 'device' }, technique: 'xray', result: 'pass' },
    '/data/target',
  ],
])('refuses of a %s what no schema can tell, as the intake does', (type, data, pointer) => {
  const event = { ...fullEvent(type), data };
  expect(checkEvent(event).map((fault) => fault.pointer)).toEqual([pointer]);
  expect(houseCheck(event).ok).toBe(false);
});

it.each<[string, object, string, RegExp]>([
  ['a member that is missing', { data: { refdes: 'U1' } }, '/data/agent', /"agent" is missing/],
  ['a slip in a name', { data: { refdes: 'U1', agent: 'x', Note: 'y' } }, '/data/Note', /Members are: .*note/],
  [
    'a time without offset',
    { time: '2031-05-09T14:06:30' },
    '/time',
    /a time with offset, as .*but got "2031-05-09T14:06:30"/,
  ],
  [
    'another kind of subject',
    { subject: 'devices/D-1' },
    '/subject',
    /is \{assembly\}\/\{serial\}, but this is "devices\/D-1"/,
  ],
  ['an unknown type', { type: 'heatbook.site.cleaned' }, '/type', /There is no event type "heatbook.site.cleaned"/],
])('says of %s where it is and what was expected', (_what, wrong, pointer, detail) => {
  const event = { ...fullEvent('heatbook.site.cleaned.v1'), ...wrong };
  expect(checkEvent(event)).toEqual([{ pointer, detail: expect.stringMatching(detail) as string }]);
});
