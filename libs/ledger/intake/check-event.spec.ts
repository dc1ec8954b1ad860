import { EVENT_SUBJECTS, STATION_EVENT_TYPES } from '../../domain/events/station-event.js';
import { checkEvent, MOST_FAULTS } from './check-event.js';
import { Fault } from './problems.js';
import { cleanedEvent, sampleEvent } from './spec-support/sample-events.js';

function faultsOf(event: unknown): readonly Fault[] {
  const check = checkEvent(event);
  return check.ok ? [] : check.faults;
}

/** Faults of an event whose data is changed in one member. */
function removal(change: Record<string, unknown>): readonly Fault[] {
  const event = sampleEvent('heatbook.device.removed.v1');
  return faultsOf({ ...event, data: { ...(event['data'] as object), ...change } });
}

describe('checking an event', () => {
  it.each(STATION_EVENT_TYPES)('takes a complete %s', (type) => {
    expect(checkEvent(sampleEvent(type))).toMatchObject({ ok: true, event: { type, id: '0198-a1' } });
  });

  it.each([
    ['site', {}],
    ['device', {}],
  ])('asks where an inspection of a %s looked', (kind, more) => {
    const target = { kind, ...more };
    const event = sampleEvent('heatbook.inspection.recorded.v1', {
      subject: 'BRD-1/0001',
      data: { target, technique: 'xray', result: 'fail' },
    });
    const check = checkEvent(event);
    expect(check.ok ? [] : check.faults.map(({ pointer }) => pointer)).toEqual(['/data/target']);
  });

  it('keeps extension attributes, and takes an attribute that is null for one that is left out', () => {
    const check = checkEvent(cleanedEvent('1', { traceparent: '00-ab', sequence: 7, test: true, dataschema: null }));
    expect(check).toMatchObject({ ok: true, event: { body: { traceparent: '00-ab', sequence: 7, test: true } } });
    expect(check.ok && 'dataschema' in check.event.body).toBe(false);
    expect(faultsOf(cleanedEvent('1', { id: null }))).toEqual([
      { pointer: '/id', detail: expect.stringMatching(/^The member "id" is missing/) as string },
    ]);
  });

  it('needs no data where a type has nothing that must be said', () => {
    expect(faultsOf({ ...sampleEvent('heatbook.unit.shipped.v1'), data: undefined })).toEqual([]);
    const { data, ...rest } = sampleEvent('heatbook.unit.reflowed.v1');
    expect(data).toBeDefined();
    expect(faultsOf(rest).map(({ pointer }) => pointer)).toEqual(['/data']);
  });

  it.each([
    ['specversion', '0.3', 'Expected "1.0" (Version of CloudEvents), but got "0.3".'],
    ['source', 'stations/rework-3', '/stations/ and the name of a station'],
    ['source', '/stations/__proto__', 'not __proto__'],
    ['id', '', 'at least 1 character'],
    ['id', 'x'.repeat(129), 'at most 128 characters'],
    ['id', 'a\tb', 'printable'],
    ['id', 7, 'Expected text'],
    ['time', '2031-02-30T10:00:00Z', 'RFC 3339'],
    ['datacontenttype', 'text/xml', 'Expected "application/json"'],
    ['dataschema', 'not a uri', 'absolute URI'],
    ['Ext', 'x', 'An event has no member "Ext"'],
    ['Subject', 'x', 'Did you mean "subject"?'],
    ['data_base64', 'e30=', 'Binary data is not taken'],
    ['ext', { a: 1 }, 'text or a number or true or false'],
    ['data', [], 'Expected an object'],
    ['data', null, 'Expected an object'],
  ])('explains a bad %s: %j', (member, value, words) => {
    const [fault, ...others] = faultsOf(cleanedEvent('1', { [member]: value }));
    expect(fault).toEqual({ pointer: `/${member}`, detail: expect.stringContaining(words) as string });
    expect(others).toEqual([]);
  });

  it.each([
    ['refdes', undefined, '/data/refdes', 'The member "refdes" is missing (Reference designator of the site).'],
    ['refdes', 'U 7', '/data/refdes', '1 to 64 of A-Z'],
    ['refdes', '__proto__', '/data/refdes', 'not __proto__'],
    ['fate', 'bin', '/data/fate', 'Expected "scrap" or "keep" (What becomes of the device), but got "bin".'],
    ['profil', 'x', '/data/profil', 'Did you mean "profile"?'],
    ['profile', 'x', '/data/profile', 'Expected an object'],
    ['note', 'x'.repeat(2001), '/data/note', 'a text of 2001 characters'],
    ['note', 'a\0b', '/data/note', 'NUL'],
    ['note', 'a\ud800b', '/data/note', 'surrogate'],
    ['attachments', Array<string>(33).fill('a'), '/data/attachments', 'at most 32 items'],
  ])('explains bad data: %s is %j', (member, value, pointer, words) => {
    const data = { ...(sampleEvent('heatbook.device.removed.v1')['data'] as Record<string, unknown>), [member]: value };
    if (value === undefined) Reflect.deleteProperty(data, member);
    expect(faultsOf(sampleEvent('heatbook.device.removed.v1', { data }))).toEqual([
      { pointer, detail: expect.stringContaining(words) as string },
    ]);
  });

  it('points into lists', () => {
    const heat = { startedAt: '2031-05-09T14:00:00Z', endedAt: '2031-05-09T14:05:00Z' };
    const thermocouples = [
      { id: '1', position: 'joint', peakC: 230 },
      { id: '2', position: 'lid', peakC: '230' },
    ];
    expect(removal({ heat: { ...heat, thermocouples } }).map(({ pointer }) => pointer)).toEqual([
      '/data/heat/thermocouples/1/position',
      '/data/heat/thermocouples/1/peakC',
    ]);
  });

  it('refuses a heat and a bake that end before they began, whatever their offsets, and takes one without length', () => {
    const heat = { startedAt: '2031-05-09T14:00:00+02:00', endedAt: '2031-05-09T11:59:59Z', thermocouples: [] };
    expect(removal({ heat })).toEqual([
      { pointer: '/data/heat/endedAt', detail: expect.stringContaining('before it began') as string },
    ]);
    expect(removal({ heat: { ...heat, endedAt: '2031-05-09T12:00:00Z' } })).toEqual([]);
    const data = { temperatureC: 125, startedAt: '2031-05-09T14:00:00Z', endedAt: '2031-05-09T13:00:00Z' };
    expect(faultsOf(sampleEvent('heatbook.unit.baked.v1', { data })).map(({ pointer }) => pointer)).toEqual([
      '/data/endedAt',
    ]);
  });

  it('tells the known types, and the one that was probably meant', () => {
    const [fault] = faultsOf(cleanedEvent('1', { type: 'heatbook.site.cleand.v1', id: 5 }));
    expect(fault?.pointer).toBe('/type');
    expect(fault?.detail).toContain('Did you mean "heatbook.site.cleaned.v1"?');
    for (const type of STATION_EVENT_TYPES) expect(fault?.detail).toContain(type);
    for (const type of [undefined, 4, null, 'toString', '__proto__', 'x'.repeat(100_000)]) {
      expect(faultsOf(cleanedEvent('1', { type })).map(({ pointer }) => pointer)).toEqual(['/type']);
    }
  });

  it('takes a subject of the kinds that a type may be about, and no other', () => {
    const subjects = { unit: 'CTRL-7/SN1', device: 'devices/D-1', station: 'stations/rework-3' };
    for (const type of STATION_EVENT_TYPES) {
      for (const [kind, subject] of Object.entries(subjects)) {
        const isAllowed = (EVENT_SUBJECTS[type] as readonly string[]).includes(kind);
        expect(faultsOf(sampleEvent(type, { subject })).map(({ pointer }) => pointer)).toEqual(
          isAllowed ? [] : ['/subject'],
        );
      }
    }
    for (const subject of ['', 'CTRL-7', 'a/b/c', 'a b/c', '__proto__/1', '/x']) {
      expect(faultsOf(cleanedEvent('1', { subject }))[0]?.detail).toContain('{assembly}/{serial}');
    }
  });

  it('tells the first faults and how many there are', () => {
    const pads = Array.from({ length: 50 }, (_, index) => `pad ${index}`);
    const check = checkEvent(
      sampleEvent('heatbook.site.repaired.v1', { data: { refdes: 'U7', procedure: 'p', pads } }),
    );
    expect(check).toMatchObject({ ok: false, total: 50 });
    expect(check.ok ? [] : check.faults).toHaveLength(MOST_FAULTS);
  });

  it.each([null, 3, 'text', [[]], true])('refuses %j, which is no object', (value) => {
    expect(faultsOf(value).map(({ pointer }) => pointer)).toEqual(['']);
  });

  it('is not led astray by a member that is called __proto__', () => {
    const event: unknown = JSON.parse(
      JSON.stringify(cleanedEvent('1')).replace('"refdes"', '"__proto__":{"agent":"x"},"refdes"'),
    );
    expect(faultsOf(event).map(({ pointer }) => pointer)).toEqual(['/data/__proto__']);
  });
});
