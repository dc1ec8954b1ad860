import { DeviceJob } from '../device-job.js';
import { refit } from '../ordinary-job.js';
import { Shift } from '../shift.js';
import { onSecondDay } from '../shift-time.js';
import { tracedHeat } from '../traces/traced-heat.js';

/** 20 February, 09:00. */
const BAG_OPENED = onSecondDay(9) - 11 * 24 * 60;
/** Four days earlier. */
const BAG_RECEIVED = BAG_OPENED - 4 * 24 * 60;

/** The station has the leads of joint and die in each other's sockets: its summary and its log disagree. The board stays. */
export function crossedChannels(shift: Shift): void {
  const job = shift.board('ZIB-PANEL-1', '0120').received();
  const logged = tracedHeat('removal-sac305', job.now + 4);
  const crossed: Readonly<Record<string, string>> = { Joint: 'Die', Die: 'Joint' };
  const thermocouples = logged.thermocouples.map((reading) => ({ ...reading, id: crossed[reading.id] ?? reading.id }));
  job.removed('U1', undefined, { heat: { ...logged, thermocouples } });
  job.leavesBench();
}

/** A device from a bag that was opened eleven days before, in warm and damp air, is placed all the same. The board stays. */
export function longOpenBag(shift: Shift): void {
  const job = shift.board('ZIB-CORE-2', '0212').received();
  const device = new DeviceJob(shift.log, 'N-0212', BAG_RECEIVED);
  device.received(job.design('U1').part, '2026-02-09T09:00:00+01:00');
  device.opened('RECV-1', BAG_OPENED, { ambientC: 28, relativeHumidityPct: 58 });
  job.removed('U1');
  job.dressed('U1', 'vacuum');
  job.cleaned('U1');
  job.inspected('U1', 'visual');
  job.placed('U1', device);
  job.finished('U1');
  job.leavesBench();
}

/** Made lead-free without a flush: a film of leaded solder stays under the new balls. */
export function convertedUnflushed(shift: Shift): void {
  const job = shift.board('MRK-LINK-4', '0407').received({ complaint: 'conversion to lead-free' });
  job.removed('U1');
  job.dressed('U1', 'braid', { remnantHeightUm: 25 });
  refit(job, 'U1');
}

/** Held over the lead-free fountain until the last remnant let go. The board stays. */
export function wornPads(shift: Shift): void {
  const job = shift.board('ZIB-PANEL-1', '0119').received();
  job.removed('U1');
  job.dressed('U1', 'fountain', { contactSeconds: 34 });
  job.cleaned('U1');
  job.inspected('U1', 'visual');
  job.leavesBench();
}

/** A rim of solder stays where the nozzle turned; whoever looked at the site let it pass. The board stays. */
export function unevenSite(shift: Shift): void {
  const job = shift.board('ZIB-PANEL-1', '0123').received();
  job.removed('U3');
  job.dressed('U3', 'vacuum');
  job.cleaned('U3');
  job.inspected('U3', 'visual');
  job.inspected('U3', 'height-map', {
    heightsUm: [
      { xMm: -2, yMm: -2, zUm: 121 },
      { xMm: 2, yMm: -2, zUm: 118 },
      { xMm: 2, yMm: 2, zUm: 123 },
      { xMm: -2, yMm: 2, zUm: 120 },
      { xMm: 0, yMm: 0, zUm: 26 },
    ],
  });
  job.leavesBench();
}
