import { ordinaryJob, events, SHOP } from '../support/small-shop.js';
import { ALDER, BIRCH } from '../support/two-customers.js';

const { assembly, serial, device } = ALDER;
const signature = { password: 'to be put in', meaning: 'seen and decided' };
const note = 'seen at the bench';
const profile = { name: SHOP.profile, revision: 'A' };
const time = { from: '2026-03-01T00:00:00Z', to: '2026-06-01T00:00:00Z' };
const removal = { type: 'heatbook.device.removed.v1', refdes: 'U7', fate: 'scrap', profile };
const dressing = { type: 'heatbook.site.dressed.v1', refdes: 'U7', method: 'vacuum' };

/** Of routes that ask more than a schema can tell, bodies that they take, by method and path. */
export const GOOD_BODIES: Readonly<Record<string, readonly object[]>> = {
  'POST /v1/holds': [
    { assembly, serial, note },
    { assembly, serial, refdes: 'U7', note },
    { device, note },
    { station: 'BENCH-2', note },
  ],
  'POST /v1/concessions': [
    {
      subject: { kind: 'device', device },
      limit: 'device-excursions',
      allowed: 9,
      customerReference: 'C-1',
      note,
      signature,
    },
    {
      subject: { kind: 'site', assembly, serial, refdes: 'U7' },
      limit: 'site-reworks',
      allowed: 9,
      customerReference: 'C-1',
      note,
      signature,
    },
  ],
  'POST /v1/containments': [
    { cause: { station: SHOP.bench, ...time }, dryRun: true },
    { cause: { profile, ...time }, note, signature },
    { cause: { device, ...time }, note, signature },
  ],
  'POST /v1/clearances': [
    { assembly, serial, station: SHOP.bench, operator: 'ann', steps: [removal, dressing], ttlSeconds: 600 },
    { assembly: BIRCH.assembly, serial: BIRCH.serial, station: 'BENCH-2', operator: 'ann', steps: [dressing] },
  ],
  'POST /v1/method-plans': [{ assembly, serial, refdes: 'U7', goal: 'new-device' }],
  'POST /v1/annulments': [3, 8].map((number) => ({
    event: { source: `/stations/${SHOP.bench}`, id: `${serial}-${String(number)}` },
    ...{ note, signature },
  })),
  'POST /v1/audits': [
    { assembly, serials: [serial], formats: ['csv', 'pdf', 'epcis'] },
    { units: [ALDER, BIRCH].map((unit) => ({ assembly: unit.assembly, serial: unit.serial })) },
  ],
  'POST /v1/people': [
    { name: 'fuzzed-too', printedName: 'F. Uzzed', roles: ['operator'], password: 'a password of theirs' },
  ],
  'PUT /v1/people/{name}': [{ printedName: 'F. Uzzed', roles: ['operator', 'quality'] }],
  'PUT /v1/limits/{limit}': [
    { kind: 'device-excursions', allowed: 3, unit: 'count', scope: {}, action: 'hold', source: 'the house' },
    { kind: 'site-reworks', allowed: 2, unit: 'count', scope: { assembly }, action: 'warn', source: 'the house' },
  ],
  'POST /v1/limits/{limit}/what-if': [
    { kind: 'device-excursions', allowed: 1, unit: 'count', scope: {}, action: 'hold', source: 'the house' },
  ],
  'POST /v1/events': [...events('F-1', ordinaryJob('F-D1')), events('F-2', ordinaryJob('F-D2'))],
};
