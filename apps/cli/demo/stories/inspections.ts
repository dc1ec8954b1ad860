import { refit } from '../ordinary-job.js';
import { Shift } from '../shift.js';

/** Id of the dressing that its bench kept to itself until the next evening. */
export const LATE_ID = 'ZIB-PANEL-1:0105:kept-back';

/** The first dressing leaves solder; the site goes back. A further dressing is told of only when the board has gone. */
export function backToDressing(shift: Shift): void {
  const job = shift.board('ZIB-PANEL-1', '0105').received();
  job.removed('U4');
  job.dressed('U4', 'braid', { passes: 2 });
  job.inspected('U4', 'visual', { result: 'fail', defects: [{ code: 'residual-solder', pads: ['D4', 'D5'] }] });
  job.dressed('U4', 'braid', { passes: 3 });
  job.dressed('U4', 'vacuum', { passes: 1 }, LATE_ID);
  refit(job, 'U4');
}

/** Its owner says that U2 was reworked three times before; the fourth time a pad comes off. The board stays. */
export function liftedPad(shift: Shift): void {
  const job = shift.board('QRN-DRIVE-3', '0301').received({
    priorReflows: 2,
    devices: [{ refdes: 'U2', device: 'QD-77', priorExcursions: 3 }],
    sites: [{ refdes: 'U2', priorReworks: 3 }],
  });
  job.removed('U2');
  job.dressed('U2', 'fountain');
  job.inspected('U2', 'visual', { result: 'fail', defects: [{ code: 'lifted-pad', pads: ['A1'] }] });
  job.step('heatbook.site.repaired.v1', job.lane.dress, 45, {
    refdes: 'U2',
    procedure: 'pad replacement, house procedure 12',
    pads: ['A1'],
    note: 'customer agreed by letter; the release is still to be signed',
  });
  job.leavesBench();
}

/** Two reworks of a site are agreed with this customer; this is the third. The board stays. */
export function thirdReworkOfTwo(shift: Shift): void {
  const job = shift.board('MRK-LINK-4', '0401').received({ sites: [{ refdes: 'U1', priorReworks: 2 }] });
  job.removed('U1');
  job.leavesBench();
}

/** Came in corroded; its owner gives it up. */
export function givenUp(shift: Shift): void {
  const job = shift.board('QRN-DRIVE-3', '0304').received({ complaint: 'wet inside' });
  job.step('heatbook.inspection.recorded.v1', 'INSP-1', 10, {
    target: { kind: 'unit' },
    technique: 'visual',
    result: 'fail',
    defects: [{ code: 'contamination' }],
    operator: 'op-202',
  });
  job.step('heatbook.unit.scrapped.v1', 'SHIP-1', 60, { note: 'owner agreed' });
}
