import { LimitRule } from '../../../libs/domain/limits/limit-rule.js';
import { OperatorData, SKILLS, StationData } from '../../../libs/domain/setup/setup-data.js';
import { DEMO_ASSEMBLIES } from '../../../libs/simulator/boards/demo-assemblies.js';
import { DEMO_PARTS } from '../../../libs/simulator/boards/demo-parts.js';
import { SetupItem, setupItems } from '../../../libs/simulator/setup-item.js';
import { demoProfiles } from '../../../libs/simulator/boards/demo-profiles.js';

function station(kind: string, thermocoupleClass?: 1 | 2): StationData {
  const calibrationDueAt = '2028-06-30T00:00:00+02:00';
  if (thermocoupleClass === undefined) return { kind, calibrationDueAt };
  return { kind, calibrationDueAt, thermocouple: { type: 'K', class: thermocoupleClass } };
}

const DEMO_STATIONS: Readonly<Record<string, StationData>> = {
  'RECV-1': station('receiving'),
  'OVEN-1': station('bake oven', 2),
  'HOTGAS-1': station('hot-gas rework', 1),
  'HOTGAS-2': station('hot-gas rework', 1),
  'HOTGAS-3': station('hot-gas rework', 1),
  'HOTGAS-4': station('hot-gas rework', 1),
  'DRESS-1': station('dressing bench', 2),
  'DRESS-2': station('dressing bench', 2),
  'DRESS-3': station('dressing bench', 2),
  'DRESS-4': station('dressing bench', 2),
  'FOUNT-1': station('solder fountain, lead-free', 2),
  'FOUNT-2': station('solder fountain, leaded', 2),
  'REFLOW-1': station('reflow oven', 1),
  'REBALL-1': station('reball bench', 2),
  'INSP-1': station('inspection'),
  'XRAY-1': station('x-ray'),
  'SHIP-1': station('shipping'),
};

function operator(skills: OperatorData['qualifications'][number]['skill'][], lapsed: string[] = []): OperatorData {
  const qualifications = skills.map((skill) => ({
    skill,
    validUntil: lapsed.includes(skill) ? '2026-02-28T23:59:59+01:00' : '2028-12-31T23:59:59+01:00',
  }));
  return { qualifications };
}

const bench = SKILLS.filter((skill) => skill !== 'inspection');

/** One for each bench, one who helps out with a lapsed qualification, one at the reball bench, and two inspectors. */
const DEMO_OPERATORS: Readonly<Record<string, OperatorData>> = {
  'op-101': operator(bench),
  'op-102': operator(bench),
  'op-103': operator(bench),
  'op-104': operator(bench),
  'op-105': operator(['braid', 'vacuum', 'coupon'], ['coupon']),
  'op-106': operator(['reballing', 'braid', 'fountain']),
  'op-201': operator(['inspection']),
  'op-202': operator(['inspection']),
};

const MIRKLEWOOD_REWORKS: LimitRule = {
  kind: 'site-reworks',
  allowed: 2,
  unit: 'reworks',
  scope: { customer: 'Mirklewood' },
  action: 'hold',
  source: 'Agreed with the (invented) customer: two reworks of a site, then a review.',
};

/** All setup of the demo, besides the house limits that every new book has. */
export function demoSetup(): readonly SetupItem[] {
  return [
    ...setupItems('part', DEMO_PARTS),
    ...setupItems('assembly', DEMO_ASSEMBLIES),
    ...setupItems('station', DEMO_STATIONS),
    ...setupItems('operator', DEMO_OPERATORS),
    ...setupItems('profile', Object.fromEntries(demoProfiles())),
    { kind: 'limit', name: 'site-reworks-mirklewood', body: MIRKLEWOOD_REWORKS },
  ];
}
