import { DeviceJob } from '../device-job.js';
import { refit, replaceDevice } from '../ordinary-job.js';
import { Shift } from '../shift.js';

/** Ids of the two events that the book cannot place. */
const UNKNOWN_SITE_ID = 'ZIB-CORE-2:0202:dressing';
const UNKNOWN_ASSEMBLY_ID = 'ZIB-PANEL-7:0108:cleaning';

/**
 * A bad hour at one bench: the dressing of U1 is posted for a U10 that the board does not have, and the label scanned at
 * placement is that of a device which left the house on another board.
 */
export function misreadLabel(shift: Shift): void {
  const other = replaceDevice(shift.board('ZIB-CORE-2', '0203'), 'U1', 'vacuum');
  const job = shift.board('ZIB-CORE-2', '0202').received();
  job.stocked('N-0202', 'U1');
  job.removed('U1');
  job.dressed('U1', 'braid', { refdes: 'U10' }, UNKNOWN_SITE_ID);
  job.cleaned('U1');
  job.inspected('U1', 'visual');
  job.placed('U1', new DeviceJob(shift.log, 'N-0203', other.now + 10));
  job.finished('U1');
  job.leavesBench();
}

/** The device for U1 is posted as placed on U3, which still carries its own. The board stays. */
export function occupiedSite(shift: Shift): void {
  const job = shift.board('QRN-DRIVE-3', '0302').received();
  job.removed('U1');
  job.dressed('U1', 'vacuum');
  job.cleaned('U1');
  job.inspected('U1', 'visual');
  job.placed('U1', job.fresh('N-0302', 'U1'), { at: 'U3' });
  job.leavesBench();
}

/** Packed in a hurry: nobody looked at the joint after the new device went on. */
export function shippedUninspected(shift: Shift): void {
  const job = shift.board('ZIB-PANEL-1', '0107').received();
  job.removed('U1');
  job.dressed('U1', 'vacuum');
  job.cleaned('U1');
  job.inspected('U1', 'visual');
  job.placed('U1', job.fresh('N-0107', 'U1'));
  job.cleaned('U1');
  job.leavesBench();
  job.shipped();
}

/** A second cleaning is posted for an assembly that does not exist. The board itself is in order. */
export function mistypedAssembly(shift: Shift): void {
  const job = shift.board('ZIB-PANEL-1', '0108').received();
  job.removed('U1');
  job.dressed('U1', 'braid');
  shift.log.record({
    type: 'heatbook.site.cleaned.v1',
    station: job.lane.dress,
    subject: 'ZIB-PANEL-7/0108',
    id: UNKNOWN_ASSEMBLY_ID,
    at: job.now + 2,
    data: { refdes: 'U1', agent: 'solvent wipe' },
  });
  refit(job, 'U1');
}
