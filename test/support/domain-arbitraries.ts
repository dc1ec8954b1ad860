import fc from 'fast-check';
import { THERMOCOUPLE_POSITIONS } from '../../libs/domain/events/heat.js';
import {
  DEFECT_CODES,
  DRESSING_METHODS,
  EVENT_SUBJECTS,
  HEATED_PURPOSES,
  STATION_EVENT_TYPES,
  StationEventType,
  STORAGES,
  TECHNIQUES,
} from '../../libs/domain/events/station-event.js';
import { ALLOY_NAMES } from '../../libs/domain/heat/alloys.js';
import { Draft } from './domain-events.js';

type Members = Record<string, fc.Arbitrary<unknown>>;

/** An object with all of the required members, and each of the optional ones or not. */
function shape(required: Members, optional: Members = {}): fc.Arbitrary<object> {
  return fc.record({ ...required, ...optional }, { requiredKeys: Object.keys(required) });
}

const one = <T>(...of: readonly T[]): fc.Arbitrary<T> => fc.constantFrom(...of);
const halves = (least: number, most: number): fc.Arbitrary<number> =>
  fc.integer({ min: least * 2, max: most * 2 }).map((n) => n / 2);
const count = fc.nat({ max: 5 });
const refdes = fc.oneof(
  { weight: 12, arbitrary: one('U1', 'U2', 'U3', 'U4') },
  // Now and then a site that the assembly does not have.
  { weight: 1, arbitrary: one('U9', 'constructor') },
);
const device = one('N1', 'N2', 'N3');
const part = one('CHIP', 'TOUGH', 'UNHEARD');
const alloy = one(...ALLOY_NAMES, 'Mystery');
const span = { startedAt: one('2031-03-03T05:00:00Z'), endedAt: one('2031-03-03T05:06:00+00:00') };

const thermocouple = shape(
  { id: one('a', 'b', 'c'), position: one(...THERMOCOUPLE_POSITIONS), peakC: halves(-40, 300) },
  {
    refdes,
    uncertaintyC: halves(0, 4),
    secondsAboveLiquidus: halves(0, 120),
    maxRiseCPerS: halves(-1, 6),
    maxFallCPerS: halves(-6, 6),
  },
);
const heat = shape({ ...span, thermocouples: fc.array(thermocouple, { maxLength: 3 }) }, { trace: one('run-1') });
const profile = shape({ name: one('cool', 'mute', 'tight', 'unheard'), revision: one('1') });
const bake = shape({ ...span, temperatureC: halves(40, 150) }, { interruptedMinutes: count });
const exposure = shape({ storage: one(...STORAGES) }, { ambientC: halves(15, 30), relativeHumidityPct: halves(0, 90) });
const common = { operator: one('ann', 'bob'), note: one('as usual', ''), lots: shape({}, { paste: one('P1') }) };
/** What an event says of its own, and perhaps of what every event may say. */
const said = (required: Members, optional: Members = {}): fc.Arbitrary<object> =>
  shape(required, { ...common, ...optional });

/** Data of every type of event, in any combination of members that its shape allows. */
const DATA: Readonly<Record<StationEventType, fc.Arbitrary<object>>> = {
  'heatbook.unit.received.v1': said(
    {},
    {
      priorReflows: count,
      devices: fc.array(shape({ refdes }, { device, priorExcursions: count }), { maxLength: 3 }),
      sites: fc.array(shape({ refdes }, { priorReworks: count }), { maxLength: 3 }),
    },
  ),
  'heatbook.unit.baked.v1': bake,
  'heatbook.unit.reflowed.v1': said({ profile, heat }, { side: one('top', 'bottom') }),
  'heatbook.unit.shipped.v1': said({}),
  'heatbook.unit.scrapped.v1': said({}),
  'heatbook.device.received.v1': said(
    { part },
    { lot: one('L1'), priorExcursions: count, packSealedAt: one('2031-01-01T00:00:00Z') },
  ),
  'heatbook.device.baked.v1': bake,
  'heatbook.device.removed.v1': said({ refdes, fate: one('scrap', 'keep'), profile, heat }, { device }),
  'heatbook.device.deballed.v1': said({ method: one(...DRESSING_METHODS) }, { solderAlloy: alloy, heat }),
  'heatbook.device.reballed.v1': said({ ballAlloy: alloy, ballDiameterMm: halves(0, 1) }, { heat }),
  'heatbook.device.placed.v1': said(
    { refdes, device, attach: one('flux', 'paste'), profile, heat },
    { part, pasteAlloy: alloy },
  ),
  'heatbook.device.scrapped.v1': said({}),
  'heatbook.exposure.started.v1': exposure,
  'heatbook.exposure.stopped.v1': exposure,
  'heatbook.site.dressed.v1': said(
    {
      refdes,
      method: one(...DRESSING_METHODS),
      solderAlloy: alloy,
      passes: fc.integer({ min: 1, max: 4 }),
      contactSeconds: halves(0, 30),
    },
    { profile, heat },
  ),
  'heatbook.site.heated.v1': said({ refdes, purpose: one(...HEATED_PURPOSES), heat }, { profile }),
  'heatbook.site.cleaned.v1': said({ refdes, agent: one('water') }),
  'heatbook.site.repaired.v1': said({ refdes, procedure: one('R-1'), pads: one(['A1'], ['A1', 'B2']) }),
  'heatbook.inspection.recorded.v1': said(
    {
      target: shape({ kind: one('site', 'device', 'unit') }, { refdes, device }),
      technique: one(...TECHNIQUES),
      result: one('pass', 'fail'),
    },
    {
      defects: fc.array(shape({ code: one(...DEFECT_CODES) }, { pads: one(['A1']) }), { maxLength: 2 }),
      voids: fc.array(shape({ joint: one('A1', 'B2'), fraction: halves(0, 1) }), { maxLength: 2 }),
      leadPct: halves(0, 40),
    },
  ),
  'heatbook.bath.analysed.v1': said({
    solderAlloy: alloy,
    leadPct: halves(0, 40),
    copperPct: halves(0, 2),
    sampledAt: one('2031-03-03T04:00:00Z'),
  }),
};

const SUBJECTS = {
  unit: one('BRD/0001', 'BRD/0002'),
  device: device.map((name) => `devices/${name}`),
  station: one('stations/HOT'),
};

function draftOf(type: StationEventType): fc.Arbitrary<Draft> {
  const subject = fc.oneof(...EVENT_SUBJECTS[type].map((kind) => SUBJECTS[kind]));
  return fc
    .record({ subject, data: DATA[type], station: one('HOT', 'OLD', 'NEW') })
    .map((rest) => ({ type, ...rest }) as Draft);
}

/** Anything that stations may say of two boards and three devices, sense or nonsense, of every type. */
export const anyDrafts: fc.Arbitrary<Draft[]> = fc.array(fc.oneof(...STATION_EVENT_TYPES.map(draftOf)), {
  minLength: 1,
  maxLength: 24,
  size: 'max',
});

/** Steps that move devices about, so that sequences get deeper than pure chance lets them. */
export const movingDrafts: fc.Arbitrary<Draft[]> = fc.array(
  fc.oneof(
    ...(
      [
        'heatbook.unit.received.v1',
        'heatbook.device.removed.v1',
        'heatbook.device.placed.v1',
        'heatbook.device.received.v1',
        'heatbook.device.scrapped.v1',
        'heatbook.site.dressed.v1',
        'heatbook.inspection.recorded.v1',
        'heatbook.unit.shipped.v1',
      ] as const
    ).map(draftOf),
  ),
  { minLength: 1, maxLength: 24, size: 'max' },
);
