import { DeviceJob } from '../device-job.js';
import { finish, refit, replaceDevice } from '../ordinary-job.js';
import { Shift } from '../shift.js';
import { tracedHeat } from '../traces/traced-heat.js';

const BALL_MM = 0.6;

/**
 * A device is kept, its balls wicked off cool, new ones set one by one with the die at 128 C, and it moves to another
 * board: three excursions of three.
 */
export function movedDevice(shift: Shift): void {
  const origin = shift.board('ZIB-PANEL-1', '0101').received();
  origin.removed('U1', 'K-0101');
  const device = new DeviceJob(shift.log, 'K-0101', origin.now);
  device.deballed('braid', 150, 'SAC305');
  device.inspected();
  device.reballed(BALL_MM, 128);
  origin.dressed('U1', 'braid');
  refit(origin, 'U1');

  const target = shift.board('ZIB-PANEL-1', '0102').received();
  target.removed('U1');
  target.dressed('U1', 'vacuum');
  target.cleaned('U1');
  target.inspected('U1', 'visual');
  target.placed('U1', device);
  finish(target, 'U1');
}

/** Balls put on under hot gas, and back to the same site: the fourth excursion of three. The board stays. */
export function oneTooMany(shift: Shift): void {
  const job = shift.board('ZIB-PANEL-1', '0103').received();
  job.removed('U1', 'K-0103');
  const device = new DeviceJob(shift.log, 'K-0103', job.now);
  device.deballed('braid', 149, 'SAC305');
  device.reballed(BALL_MM);
  job.dressed('U1', 'braid');
  job.cleaned('U1');
  job.inspected('U1', 'visual');
  job.placed('U1', device);
  job.finished('U1');
  job.leavesBench();
}

/** Balls taken off over a solder fountain that heats the die through: spent, and put away. */
export function fountainDeballed(shift: Shift): void {
  const job = shift.board('ZIB-PANEL-1', '0106').received();
  job.removed('U1', 'K-0106');
  const device = new DeviceJob(shift.log, 'K-0106', job.now);
  device.deballed('fountain', 'fountain-deballing-sac305', 'SAC305');
  device.toDryCabinet();
  job.dressed('U1', 'vacuum');
  refit(job, 'U1');
}

/** Balls taken off cool and put on under hot gas, both logged: spent, and put away. Its site gets a new device. */
export function loggedReball(shift: Shift): void {
  const job = shift.board('ZIB-PANEL-1', '0121').received();
  job.removed('U1', 'K-0121');
  const device = new DeviceJob(shift.log, 'K-0121', job.now);
  device.deballed('braid', 'braid-deballing-sac305', 'SAC305');
  device.inspected();
  device.reballed(BALL_MM, 'reballing-sac305');
  device.toDryCabinet();
  job.dressed('U1', 'coupon', { heat: tracedHeat('coupon-dressing-sac305', job.now + 3) });
  refit(job, 'U1');
}

/** Kept for the failure analysts, who cut it open. */
export function keptThenScrapped(shift: Shift): void {
  const job = shift.board('ZIB-PANEL-1', '0111').received();
  job.removed('U1', 'K-0111');
  const device = new DeviceJob(shift.log, 'K-0111', job.now);
  device.step('heatbook.device.scrapped.v1', 'REBALL-1', 90, { note: 'cut open for failure analysis' });
  job.dressed('U1', 'braid');
  refit(job, 'U1');
}

/** The part allows two excursions and the bottom side has seen two: it may still be taken off to scrap. */
export function spentToScrap(shift: Shift): void {
  replaceDevice(shift.board('ZIB-CORE-2', '0204'), 'U12', 'braid');
}
