import { ParkingReason } from '../../libs/domain/book/apply-event.js';
import { DeviceState, WarningCode } from '../../libs/domain/book/state.js';
import { HoldReason } from '../../libs/domain/holds/hold-reason.js';
import { BudgetKind } from '../../libs/domain/limits/limit-rule.js';
import { Subject } from '../../libs/domain/subject/subject.js';

/** What a subject has spent of one limit, as docs/demo.md works it out by hand from the counting rules. */
export interface WorkedBudget {
  readonly subject: Subject;
  readonly limit: BudgetKind;
  readonly used: number;
  readonly allowed: number;
  readonly possible: number;
}

export interface WorkedHold {
  readonly reason: HoldReason;
  readonly subject: Subject;
}

export interface WorkedWarning {
  readonly code: WarningCode;
  readonly subject: Subject;
}

interface WorkedDevice {
  readonly device: string;
  readonly status: DeviceState['status'];
  /** `{assembly}/{serial}#{refdes}`. */
  readonly place: string | null;
}

export interface WorkedParked {
  readonly id: string;
  readonly subject: string;
  readonly code: ParkingReason['code'];
}

export interface WorkedUnit {
  readonly assembly: string;
  readonly serial: string;
  readonly status: 'in-house' | 'shipped' | 'scrapped';
  readonly budgets: readonly WorkedBudget[];
  readonly devices: readonly WorkedDevice[];
  readonly holds: readonly WorkedHold[];
  readonly warnings: readonly WorkedWarning[];
  readonly parked: readonly WorkedParked[];
}

const device = (name: string): Subject => ({ kind: 'device', device: name });
const unit = (assembly: string, serial: string): Subject => ({ kind: 'unit', assembly, serial });
const site = (assembly: string, serial: string, refdes: string): Subject => ({
  kind: 'site',
  assembly,
  serial,
  refdes,
});

/** Tallies of one board; `allowed` is the house's figure for everything but devices. */
function board(assembly: string, serial: string) {
  const budget = (subject: Subject, limit: BudgetKind, used: number, allowed: number, possible = 0): WorkedBudget => ({
    subject,
    limit,
    used,
    allowed,
    possible,
  });
  return {
    reflows: (used: number) => budget(unit(assembly, serial), 'unit-reflows', used, 6),
    /** A site that was worked on. */
    worked: (refdes: string, reworks: number, dressings: number, excursions: number) => [
      budget(site(assembly, serial, refdes), 'site-reworks', reworks, 3),
      budget(site(assembly, serial, refdes), 'site-dressings', dressings, 6),
      budget(site(assembly, serial, refdes), 'site-excursions', excursions, 8),
    ],
    /** A site beside it, and the device there that came with the board. */
    beside: (refdes: string, excursions: number, deviceAllowed: number, possible = 0) => [
      budget(site(assembly, serial, refdes), 'site-excursions', excursions, 8, possible),
      budget(device(`${assembly}:${serial}:${refdes}`), 'device-excursions', excursions, deviceAllowed, possible),
    ],
    spent: (name: string, used: number, allowed: number) => budget(device(name), 'device-excursions', used, allowed),
    on: (name: string, refdes: string): WorkedDevice => ({
      device: name,
      status: 'mounted',
      place: `${assembly}/${serial}#${refdes}`,
    }),
    scrapped: (name: string): WorkedDevice => ({ device: name, status: 'scrapped', place: null }),
    loose: (name: string): WorkedDevice => ({ device: name, status: 'loose', place: null }),
  };
}

const nothing = { holds: [], warnings: [], parked: [] } as const;

function ordinary(): WorkedUnit {
  const of = board('ZIB-CORE-2', '0201');
  return {
    assembly: 'ZIB-CORE-2',
    serial: '0201',
    status: 'shipped',
    budgets: [
      of.reflows(2),
      ...of.worked('U1', 1, 1, 4),
      of.spent('N-0201', 1, 3),
      of.spent('ZIB-CORE-2:0201:U1', 2, 3),
      ...of.beside('U2', 1, 2),
      ...of.beside('U11', 2, 3),
    ],
    devices: [of.on('N-0201', 'U1'), of.scrapped('ZIB-CORE-2:0201:U1'), of.on('ZIB-CORE-2:0201:U11', 'U11')],
    ...nothing,
  };
}

function origin(): WorkedUnit {
  const of = board('ZIB-PANEL-1', '0101');
  return {
    assembly: 'ZIB-PANEL-1',
    serial: '0101',
    status: 'shipped',
    budgets: [
      of.reflows(1),
      ...of.worked('U1', 1, 1, 4),
      of.spent('N-0101', 1, 3),
      ...of.beside('U2', 1, 2),
      ...of.beside('U3', 1, 3),
      ...of.beside('U4', 1, 3),
    ],
    devices: [of.on('N-0101', 'U1')],
    ...nothing,
  };
}

function target(): WorkedUnit {
  const of = board('ZIB-PANEL-1', '0102');
  return {
    assembly: 'ZIB-PANEL-1',
    serial: '0102',
    status: 'shipped',
    budgets: [
      of.reflows(1),
      ...of.worked('U1', 1, 1, 4),
      of.spent('K-0101', 3, 3),
      of.spent('ZIB-PANEL-1:0102:U1', 2, 3),
      ...of.beside('U2', 1, 2),
      ...of.beside('U3', 1, 3),
      ...of.beside('U4', 1, 3),
    ],
    devices: [of.on('K-0101', 'U1'), of.scrapped('ZIB-PANEL-1:0102:U1')],
    ...nothing,
    warnings: [{ code: 'clearance-required', subject: device('K-0101') }],
  };
}

function oneTooMany(): WorkedUnit {
  const of = board('ZIB-PANEL-1', '0103');
  return {
    assembly: 'ZIB-PANEL-1',
    serial: '0103',
    status: 'in-house',
    budgets: [
      of.reflows(1),
      ...of.worked('U1', 1, 1, 4),
      of.spent('K-0103', 4, 3),
      ...of.beside('U2', 1, 2),
      ...of.beside('U3', 1, 3),
      ...of.beside('U4', 1, 3),
    ],
    devices: [of.on('K-0103', 'U1')],
    ...nothing,
    holds: [{ reason: 'device-excursions', subject: device('K-0103') }],
    warnings: [{ code: 'clearance-required', subject: device('K-0103') }],
  };
}

function hotNeighbour(): WorkedUnit {
  const of = board('ZIB-PANEL-1', '0104');
  return {
    assembly: 'ZIB-PANEL-1',
    serial: '0104',
    status: 'shipped',
    budgets: [
      of.reflows(1),
      ...of.worked('U1', 1, 1, 4),
      of.spent('N-0104', 1, 3),
      of.spent('ZIB-PANEL-1:0104:U1', 2, 3),
      ...of.beside('U2', 2, 2),
      ...of.beside('U3', 1, 3, 1),
      ...of.beside('U4', 1, 3),
    ],
    devices: [
      of.on('N-0104', 'U1'),
      of.scrapped('ZIB-PANEL-1:0104:U1'),
      of.on('ZIB-PANEL-1:0104:U2', 'U2'),
      of.on('ZIB-PANEL-1:0104:U3', 'U3'),
    ],
    ...nothing,
    warnings: [
      { code: 'neighbour-possible', subject: device('ZIB-PANEL-1:0104:U3') },
      { code: 'qualified-operator', subject: unit('ZIB-PANEL-1', '0104') },
    ],
  };
}

function backToDressing(): WorkedUnit {
  const of = board('ZIB-PANEL-1', '0105');
  return {
    assembly: 'ZIB-PANEL-1',
    serial: '0105',
    status: 'shipped',
    budgets: [
      of.reflows(1),
      ...of.worked('U4', 1, 3, 6),
      of.spent('N-0105', 1, 3),
      of.spent('ZIB-PANEL-1:0105:U4', 2, 3),
      ...of.beside('U3', 2, 3),
      ...of.beside('U1', 1, 3),
    ],
    devices: [of.on('N-0105', 'U4'), of.scrapped('ZIB-PANEL-1:0105:U4'), of.on('ZIB-PANEL-1:0105:U3', 'U3')],
    ...nothing,
  };
}

function liftedPad(): WorkedUnit {
  const of = board('QRN-DRIVE-3', '0301');
  const u2 = site('QRN-DRIVE-3', '0301', 'U2');
  return {
    assembly: 'QRN-DRIVE-3',
    serial: '0301',
    status: 'in-house',
    budgets: [
      of.reflows(2),
      ...of.worked('U2', 4, 1, 4),
      of.spent('QD-77', 4, 3),
      ...of.beside('U1', 2, 3),
      ...of.beside('U4', 2, 3),
    ],
    devices: [of.scrapped('QD-77'), of.on('QRN-DRIVE-3:0301:U1', 'U1')],
    ...nothing,
    holds: [
      { reason: 'site-reworks', subject: u2 },
      { reason: 'damage-found', subject: u2 },
    ],
    warnings: [{ code: 'clearance-required', subject: unit('QRN-DRIVE-3', '0301') }],
  };
}

function misreadLabel(): WorkedUnit {
  const of = board('ZIB-CORE-2', '0202');
  return {
    assembly: 'ZIB-CORE-2',
    serial: '0202',
    status: 'in-house',
    budgets: [
      of.reflows(2),
      ...of.worked('U1', 1, 0, 3),
      of.spent('N-0203', 2, 3),
      of.spent('N-0202', 0, 3),
      of.spent('ZIB-CORE-2:0202:U1', 2, 3),
      ...of.beside('U2', 1, 2),
      ...of.beside('U11', 2, 3),
    ],
    devices: [of.on('N-0203', 'U1'), of.loose('N-0202'), of.scrapped('ZIB-CORE-2:0202:U1')],
    holds: [
      { reason: 'identity-conflict', subject: device('N-0203') },
      { reason: 'event-parked', subject: unit('ZIB-CORE-2', '0202') },
    ],
    warnings: [
      { code: 'site-not-dressed', subject: site('ZIB-CORE-2', '0202', 'U1') },
      { code: 'clearance-required', subject: unit('ZIB-CORE-2', '0202') },
    ],
    parked: [{ id: 'ZIB-CORE-2:0202:dressing', subject: 'ZIB-CORE-2/0202', code: 'unknown-site' }],
  };
}

/** Eight boards of the demo, worked out by hand in docs/demo.md; a spec keeps the two alike. */
export const workedUnits: readonly WorkedUnit[] = [
  ordinary(),
  origin(),
  target(),
  oneTooMany(),
  hotNeighbour(),
  backToDressing(),
  liftedPad(),
  misreadLabel(),
];

/** Every hold of the whole shift; there is no other. */
export const workedHolds: readonly WorkedHold[] = [
  ...workedUnits.flatMap(({ holds }) => holds),
  { reason: 'sequence-broken', subject: site('QRN-DRIVE-3', '0302', 'U3') },
  { reason: 'shipped-open', subject: unit('ZIB-PANEL-1', '0107') },
  { reason: 'event-parked', subject: unit('ZIB-PANEL-7', '0108') },
  { reason: 'site-reworks', subject: site('MRK-LINK-4', '0401', 'U1') },
  { reason: 'summary-mismatch', subject: site('ZIB-PANEL-1', '0120', 'U1') },
  { reason: 'floor-life', subject: device('N-0212') },
  { reason: 'pad-copper-min', subject: site('ZIB-PANEL-1', '0119', 'U1') },
  { reason: 'flatness-max', subject: site('ZIB-PANEL-1', '0123', 'U3') },
];

/** Every warning of the whole shift; there is no other. */
export const workedWarnings: readonly WorkedWarning[] = [
  ...workedUnits.flatMap(({ warnings }) => warnings),
  { code: 'part-differs', subject: site('QRN-DRIVE-3', '0302', 'U3') },
  { code: 'floor-life', subject: unit('ZIB-CORE-2', '0212') },
  { code: 'joint-lead-max', subject: site('MRK-LINK-4', '0407', 'U1') },
  { code: 'clearance-required', subject: unit('QRN-DRIVE-3', '0302') },
  { code: 'clearance-required', subject: unit('MRK-LINK-4', '0401') },
  { code: 'clearance-required', subject: unit('ZIB-CORE-2', '0212') },
  { code: 'clearance-required', subject: unit('ZIB-PANEL-1', '0119') },
];

/** Every event of the whole shift that the book cannot place. */
export const workedParked: readonly WorkedParked[] = [
  ...workedUnits.flatMap(({ parked }) => parked),
  { id: 'ZIB-PANEL-7:0108:cleaning', subject: 'ZIB-PANEL-7/0108', code: 'unknown-assembly' },
];
