import { SiteDressed } from '../../../../libs/domain/events/station-event.js';
import { convertSite, finish, replaceDevice } from '../ordinary-job.js';
import { Shift } from '../shift.js';
import { UnitJob } from '../unit-job.js';

type Plan = readonly [assembly: string, serial: string, refdes: string, method: SiteDressed['method']];

const MORNING: readonly Plan[] = [
  ['ZIB-CORE-2', '0201', 'U1', 'vacuum'],
  ['ZIB-PANEL-1', '0112', 'U1', 'braid'],
  ['QRN-DRIVE-3', '0305', 'U1', 'braid'],
  ['ZIB-PANEL-1', '0113', 'U2', 'vacuum'],
  ['ZIB-CORE-2', '0205', 'U2', 'braid'],
  ['QRN-DRIVE-3', '0306', 'U2', 'vacuum'],
  ['ZIB-PANEL-1', '0114', 'U3', 'braid'],
  ['ZIB-CORE-2', '0206', 'U11', 'braid'],
];

const AFTERNOON: readonly Plan[] = [
  ['ZIB-PANEL-1', '0115', 'U1', 'coupon'],
  ['QRN-DRIVE-3', '0307', 'U1', 'fountain'],
  ['ZIB-CORE-2', '0207', 'U1', 'braid'],
  ['ZIB-PANEL-1', '0116', 'U2', 'braid'],
  ['QRN-DRIVE-3', '0308', 'U3', 'braid'],
  ['ZIB-CORE-2', '0208', 'U1', 'fountain'],
  ['ZIB-PANEL-1', '0117', 'U1', 'vacuum'],
  ['QRN-DRIVE-3', '0309', 'U4', 'vacuum'],
  ['ZIB-CORE-2', '0209', 'U3', 'braid'],
  ['QRN-DRIVE-3', '0310', 'U1', 'braid'],
  ['ZIB-CORE-2', '0210', 'U1', 'coupon'],
];

/** Boards with nothing to tell, which is most of what a good house does. */
export function morningBoards(shift: Shift): void {
  for (const [assembly, serial, refdes, method] of MORNING) {
    replaceDevice(shift.board(assembly, serial), refdes, method);
  }
}

export function afternoonBoards(shift: Shift): void {
  for (const [assembly, serial, refdes, method] of AFTERNOON) {
    replaceDevice(shift.board(assembly, serial), refdes, method);
  }
  for (const serial of ['0402', '0403', '0404', '0405', '0406']) convertSite(shift.board('MRK-LINK-4', serial), 'U1');
  twoDevices(shift.board('ZIB-PANEL-1', '0118'));
  fromAnOpenPack(shift.board('ZIB-CORE-2', '0211'));
}

/** Two devices on one board, one after the other. */
function twoDevices(job: UnitJob): void {
  job.received();
  for (const [refdes, name] of [
    ['U1', 'N-0118a'],
    ['U2', 'N-0118b'],
  ] as const) {
    job.removed(refdes);
    job.dressed(refdes, 'braid');
    job.cleaned(refdes);
    job.inspected(refdes, 'visual');
    job.placed(refdes, job.fresh(name, refdes));
    job.finished(refdes);
  }
  job.leavesBench();
  job.shipped();
}

/** The new device had lain open, so it was baked over night before it went on. */
function fromAnOpenPack(job: UnitJob): void {
  const device = job.stocked('N-0211', 'U1');
  device.opened('RECV-1', 165);
  device.bakedOverNight(170, 1195);
  job.received();
  job.removed('U1');
  job.dressed('U1', 'vacuum');
  job.cleaned('U1');
  job.inspected('U1', 'visual');
  job.inspected('U1', 'height-map', {
    heightsUm: [
      { xMm: -10, yMm: -10, zUm: 14 },
      { xMm: 10, yMm: -10, zUm: 19 },
      { xMm: 10, yMm: 10, zUm: 16 },
      { xMm: -10, yMm: 10, zUm: 21 },
      { xMm: 0, yMm: 0, zUm: 18 },
    ],
  });
  job.placed('U1', device);
  finish(job, 'U1');
}
