import { OperatorData, SKILLS, StationData } from '../domain/setup/setup-data.js';
import { DEMO_ASSEMBLIES } from './boards/demo-assemblies.js';
import { DEMO_PARTS } from './boards/demo-parts.js';
import { demoProfiles } from './boards/demo-profiles.js';
import { Bench, INSPECTORS } from './crew.js';
import { SetupItem, setupItems } from './setup-item.js';

/** Invented things do not go out of date: entered twice, they are the same. */
const NEVER = '2099-12-31T00:00:00Z';

function station(kind: string, thermocoupleClass?: 1 | 2): StationData {
  if (thermocoupleClass === undefined) return { kind, calibrationDueAt: NEVER };
  return { kind, calibrationDueAt: NEVER, thermocouple: { type: 'K', class: thermocoupleClass } };
}

function operator(skills: readonly OperatorData['qualifications'][number]['skill'][]): OperatorData {
  return { qualifications: skills.map((skill) => ({ skill, validUntil: NEVER })) };
}

const SHARED_STATIONS: Readonly<Record<string, StationData>> = {
  'SIM-RECV-1': station('receiving'),
  'SIM-OVEN-1': station('bake oven', 2),
  'SIM-FOUNT-1': station('solder fountain, lead-free', 2),
  'SIM-FOUNT-2': station('solder fountain, leaded', 2),
  'SIM-INSP-1': station('inspection'),
  'SIM-XRAY-1': station('x-ray'),
  'SIM-SHIP-1': station('shipping'),
};

/** What has to be entered before the day: the boards of the demo, and stations and people of the simulator's own. */
export function simulatedSetup(benches: readonly Bench[]): readonly SetupItem[] {
  const own = benches.flatMap(({ hotGas, dress }) => [
    [hotGas, station('hot-gas rework', 1)] as const,
    [dress, station('dressing bench', 2)] as const,
  ]);
  const people = [
    ...benches.map(({ operator: { name } }) => [name, operator(SKILLS.filter((s) => s !== 'inspection'))] as const),
    ...INSPECTORS.map((name) => [name, operator(['inspection'])] as const),
  ];
  return [
    ...setupItems('part', DEMO_PARTS),
    ...setupItems('assembly', DEMO_ASSEMBLIES),
    ...setupItems('profile', Object.fromEntries(demoProfiles())),
    ...setupItems('station', { ...SHARED_STATIONS, ...Object.fromEntries(own) }),
    ...setupItems('operator', Object.fromEntries(people)),
  ];
}
