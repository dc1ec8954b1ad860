import { isClearedType } from '../../../libs/domain/clearance/clearance.js';
import { applyEvent } from '../../../libs/domain/book/apply-event.js';
import { budgetLimit, tallyOf } from '../../../libs/domain/book/budgets.js';
import { emptyWorld, World } from '../../../libs/domain/book/state.js';
import { usedOf } from '../../../libs/domain/book/tally.js';
import { compareOrder, orderTime } from '../../../libs/domain/events/event-order.js';
import { DRESSING_METHODS, STATION_EVENT_TYPES, StationEvent } from '../../../libs/domain/events/station-event.js';
import { HOUSE_LIMITS } from '../../../libs/domain/limits/house-limits.js';
import { Rules, SetupKind, SetupRevision } from '../../../libs/domain/setup/setup-data.js';
import { isName } from '../../../libs/domain/subject/names.js';
import { parseStream, subjectKey } from '../../../libs/domain/subject/subject.js';
import {
  WorkedBudget,
  workedHolds,
  workedParked,
  WorkedUnit,
  workedUnits,
  workedWarnings,
} from '../../../test/support/worked-units.js';
import { checkEvent } from '../../../libs/ledger/intake/check-event.js';
import { readStoredTrace } from '../../../libs/ledger/traces/read-stored-trace.js';
import { SetupItem } from '../../../libs/simulator/setup-item.js';
import { makeDemo } from './make-demo.js';
import { StationCloudEvent } from '../../../libs/simulator/station-cloud-event.js';

const demo = makeDemo();
const items = demo.posts.flatMap(({ events }) => events);
const accepted = items.flatMap((item) => (item.expected === 'accepted' ? [item.event] : []));
const refOf = (event: { source?: unknown; id?: unknown }): string => `${String(event.source)} ${String(event.id)}`;
const ofType = <T extends StationCloudEvent['type']>(type: T): Extract<StationCloudEvent, { type: T }>[] =>
  accepted.filter((event): event is Extract<StationCloudEvent, { type: T }> => event.type === type);

function rulesOf(setup: readonly SetupItem[]): Rules {
  const records: { [K in SetupKind]: Map<string, SetupRevision<K>> } = {
    assembly: new Map(),
    part: new Map(),
    station: new Map(),
    operator: new Map(),
    profile: new Map(),
    'copper-rate': new Map(),
    concession: new Map(),
    retention: new Map(),
    limit: new Map([...HOUSE_LIMITS].map(([name, body]) => [name, { name, revision: 1, body }])),
  };
  const put = <K extends SetupKind>(kind: K, record: SetupRevision<K>): void => {
    records[kind].set(record.name, record);
  };
  for (const { kind, name, body } of setup) put(kind, { name, revision: 1, body });
  return {
    version: setup.length,
    find: (kind, name) => records[kind].get(name),
    limits: (kind) => [...records.limit.values()].filter(({ body }) => body.kind === kind).map((limit) => [limit]),
    concessions: () => [],
  };
}

function told(event: StationCloudEvent): StationEvent {
  const { type, subject, source, id, time, data } = event;
  const station = source.slice('/stations/'.length);
  return { type, subject, station, time, order: { source, id, at: orderTime(time) }, data } as StationEvent;
}

const rules = rulesOf(demo.setup);

/** What benches were granted, as the fold reads it. */
function granted(): World['clearances'] {
  const requests = demo.requests.filter(({ expected }) => expected === 'granted');
  return new Map(
    requests.map(({ id, subject, at, steps }) => {
      const expiresAt = new Date(Date.parse(at) + 86_400_000).toISOString();
      const own = steps.map((plan) => ({ plan, device: plan.device ?? null, reserves: [], use: null }));
      return [id, { id, subject, grantedAt: at, expiresAt, returnedAt: null, steps: own }];
    }),
  );
}

function fold(): { world: World; parked: { id: string; subject: string; code: string }[] } {
  const traces = demo.traces.flatMap((file) => {
    const reading = readStoredTrace(file);
    return reading.ok ? [[file.name, reading.trace] as const] : [];
  });
  const world = { ...emptyWorld(), traces: new Map(traces), clearances: granted() };
  const parked: { id: string; subject: string; code: string }[] = [];
  for (const event of accepted.map(told).sort((a, b) => compareOrder(a.order, b.order))) {
    const outcome = applyEvent(world, event, rules);
    if (outcome.state === 'parked') {
      parked.push({ id: event.order.id, subject: event.subject, code: outcome.reason.code });
    }
  }
  return { world, parked };
}

const { world, parked } = fold();

describe('the demo shift', () => {
  it('is a shift of a size worth looking at', () => {
    expect(new Set(accepted.map(({ subject }) => subject).filter((key) => world.units.has(key))).size).toBeGreaterThan(
      39,
    );
    expect(accepted.length).toBeGreaterThanOrEqual(600);
    expect(demo.setup.filter(({ kind }) => kind === 'assembly')).toHaveLength(4);
  });

  it('is the same on every call', () => {
    expect(makeDemo()).toEqual(demo);
  });

  it('gives every event an identity of its own, a name that is one and a time that is one', () => {
    expect(new Set(accepted.map(refOf)).size).toBe(accepted.length);
    for (const event of accepted) {
      expect(parseStream(event.subject)).toBeDefined();
      expect(orderTime(event.time)).toMatch(/^2026-(03-0[23]|02-(16|20))T/);
    }
    for (const { kind, name } of demo.setup) {
      const parts = kind === 'profile' ? name.split('@') : [name];
      expect(parts.every(isName)).toBe(true);
    }
  });

  it('asks for clearance before every heat, and uses every step that it is granted', () => {
    const cleared = accepted.filter(({ type }) => isClearedType(type));
    expect(demo.requests.flatMap(({ steps }) => steps)).toHaveLength(cleared.length);
    const used = [...world.clearances.values()].flatMap(({ steps }) => steps.map(({ use }) => use));
    expect(used.length).toBeGreaterThan(100);
    expect(used.filter((use) => use === null)).toEqual([]);
  });

  it('sends singles with one event, batches with several, and no station speaks for another', () => {
    for (const { station, body, events } of demo.posts) {
      expect(body === 'single').toBe(events.length === 1);
      for (const { event } of events) expect(event['source']).toBe(`/stations/${station}`);
    }
  });

  it('tells each board its steps in order, but for the one that was kept back', () => {
    const newest = new Map<string, string>();
    const early: string[] = [];
    for (const event of accepted) {
      const at = orderTime(event.time);
      if (at < (newest.get(event.subject) ?? '')) early.push(event.id);
      else newest.set(event.subject, at);
    }
    expect(early).toEqual(['ZIB-PANEL-1:0105:kept-back']);
  });

  it('never runs two heats at once at a hot-gas station', () => {
    const ends = new Map<string, string>();
    const heats = accepted.flatMap(({ source, data }) =>
      source.includes('HOTGAS') && 'heat' in data ? [{ source, heat: data.heat }] : [],
    );
    for (const { source, heat } of heats.sort((a, b) => (a.heat.startedAt < b.heat.startedAt ? -1 : 1))) {
      expect(heat.startedAt >= (ends.get(source) ?? '')).toBe(true);
      ends.set(source, heat.endedAt);
    }
  });
});

describe('what goes wrong on the way in', () => {
  it('repeats posts with the same content', () => {
    const known = new Map(accepted.map((event) => [refOf(event), event]));
    const duplicates = items.filter(({ expected }) => expected === 'duplicate');
    expect(duplicates.length).toBeGreaterThan(1);
    for (const { event } of duplicates) expect(event).toEqual(known.get(refOf(event)));
  });

  it('uses an id again for other content, after the first use', () => {
    const conflicts = items.filter((item) => item.expected === 'rejected' && item.status === 409);
    expect(conflicts).toHaveLength(1);
    for (const { event } of conflicts) {
      const first = items.findIndex((item) => refOf(item.event) === refOf(event));
      expect(items[first]?.expected).toBe('accepted');
      expect(items[first]?.event).not.toEqual(event);
    }
  });

  it('has the shape that intake asks for, except where it is to be turned away', () => {
    for (const item of items) {
      const malformed = item.expected === 'rejected' && item.status === 422;
      expect([refOf(item.event), checkEvent(item.event).ok]).toEqual([refOf(item.event), !malformed]);
    }
  });

  it('posts malformed events, alone and among good ones', () => {
    const bodies = demo.posts.filter(({ events }) =>
      events.some((item) => item.expected === 'rejected' && item.status === 422),
    );
    expect(new Set(bodies.map(({ body }) => body))).toEqual(new Set(['single', 'batch']));
  });
});

describe('the stories', () => {
  it('uses every kind of event, every dressing method and both fates', () => {
    expect(new Set(accepted.map(({ type }) => type))).toEqual(new Set(STATION_EVENT_TYPES));
    expect(new Set(ofType('heatbook.site.dressed.v1').map(({ data }) => data.method))).toEqual(
      new Set(DRESSING_METHODS),
    );
    expect(new Set(ofType('heatbook.device.removed.v1').map(({ data }) => data.fate))).toEqual(
      new Set(['keep', 'scrap']),
    );
  });

  it('moves a device between boards', () => {
    expect(world.devices.get('K-0101')?.unitsSeen).toEqual(['ZIB-PANEL-1/0101', 'ZIB-PANEL-1/0102']);
  });

  it('takes balls off over a fountain, which spends the last excursion and raises nothing', () => {
    const spent = world.devices.get('K-0106');
    expect(spent && usedOf(spent.excursions)).toBe(3);
    expect(spent?.status).toBe('loose');
  });

  it('takes a spent device off to scrap without a hold', () => {
    const spent = world.devices.get('ZIB-CORE-2:0204:U12');
    expect(spent && usedOf(spent.excursions)).toBe(3);
    expect(spent?.status).toBe('scrapped');
  });

  it('counts a whole-board pass for the board and everything on it', () => {
    const unit = world.units.get('ZIB-PANEL-1/0109');
    expect(unit && usedOf(unit.reflows)).toBe(2);
    expect(Object.values(unit?.sites ?? {}).map(({ excursions }) => usedOf(excursions))).toEqual([2, 2, 2, 2]);
  });

  it('counts nothing for a removal that was broken off cold', () => {
    const site = world.units.get('ZIB-PANEL-1/0110')?.sites['U1'];
    expect(site && usedOf(site.excursions)).toBe(4);
  });
});

describe('the traces', () => {
  const named = accepted.flatMap(({ data }) =>
    'heat' in data && data.heat.trace !== undefined ? [data.heat.trace] : [],
  );

  it('are twelve, each named by one heat and read in full', () => {
    expect(demo.traces).toHaveLength(12);
    expect(named.sort()).toEqual(demo.traces.map(({ name }) => name).sort());
    expect(world.traces.size).toBe(12);
    expect(demo.traces.filter(({ voltage }) => voltage !== null)).toHaveLength(1);
  });

  it('bear out the verdicts: a braid leaves the die cold, a fountain and hot gas do not', () => {
    const spent = (device: string): string[] =>
      (world.devices.get(device)?.excursions.counted ?? []).map(({ event }) => event.id);
    expect(spent('K-0106')).toEqual([expect.any(String), 'K-0106:01']);
    expect(spent('K-0121')).toEqual([expect.any(String), 'K-0121:03']);
  });
});

describe('the worked boards', () => {
  it.each(workedUnits.map((unit) => [`${unit.assembly}/${unit.serial}`, unit] as const))('%s', (key, unit) => {
    expect(world.units.get(key)?.status).toBe(unit.status);
    expect(budgetsFound(unit)).toEqual(unit.budgets);
    for (const { device, status, place } of unit.devices) {
      const found = world.devices.get(device);
      const at = found?.place ? `${found.place.assembly}/${found.place.serial}#${found.place.refdes}` : null;
      expect({ device, status: found?.status, place: at }).toEqual({ device, status, place });
    }
  });

  it('has these holds and no other', () => {
    const called = world.causes.map(({ reason, subject }) => `${reason} ${subjectKey(subject)}`);
    const byParking = parked.map(({ subject }) => `event-parked ${subject}`);
    const expected = workedHolds.map(({ reason, subject }) => `${reason} ${subjectKey(subject)}`);
    expect([...new Set([...called, ...byParking])].sort()).toEqual(expected.sort());
  });

  it('has these warnings and no other', () => {
    const found = [...world.units.values(), ...world.devices.values()].flatMap(({ warnings }) => warnings);
    const texts = found.map(({ code, subject }) => `${code} ${subjectKey(subject)}`);
    expect([...new Set(texts)].sort()).toEqual(
      workedWarnings.map((one) => `${one.code} ${subjectKey(one.subject)}`).sort(),
    );
  });

  it('parks these events and no other', () => {
    expect(parked.sort((a, b) => (a.id < b.id ? -1 : 1))).toEqual([...workedParked]);
  });
});

function budgetsFound(unit: WorkedUnit): WorkedBudget[] {
  return unit.budgets.map(({ subject, limit }) => {
    const tally = tallyOf(world, subject, limit);
    const allowed = budgetLimit(world, rules, subject, limit, orderTime('2100-01-01T00:00:00Z'))?.allowed;
    return { subject, limit, used: usedOf(tally), allowed: Number(allowed), possible: tally.possible.length };
  });
}
