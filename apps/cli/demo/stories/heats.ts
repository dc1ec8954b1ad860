import { Heat } from '../../../../libs/domain/events/heat.js';
import { spanOf } from '../bench-heat.js';
import { finish, refit } from '../ordinary-job.js';
import { Shift } from '../shift.js';
import { tracedHeat } from '../traces/traced-heat.js';
import { UnitJob } from '../unit-job.js';

/**
 * Taking U1 off heats U2 to 214 C, measured; of U3 the older profile revision knows nothing. The coupon is used by
 * someone whose qualification for it has lapsed.
 */
export function hotNeighbour(shift: Shift): void {
  const job = shift.board('ZIB-PANEL-1', '0104').received();
  const onNeighbour = { id: 'TC3', refdes: 'U2', position: 'joint', uncertaintyC: 1.5 } as const;
  job.removed('U1', undefined, { revision: 'A', readings: [{ ...onNeighbour, peakC: 214 }] });
  job.dressed('U1', 'coupon', { operator: 'op-105' });
  job.cleaned('U1');
  job.inspected('U1', 'visual');
  job.placed('U1', job.fresh('N-0104', 'U1'), { readings: [{ ...onNeighbour, peakC: 205 }] });
  finish(job, 'U1');
}

/** The whole board goes through the oven once more; a thermocouple was forgotten on its input. */
export function wholeBoardReflow(shift: Shift): void {
  const job = shift.board('ZIB-PANEL-1', '0109').received({ complaint: 'dull joints all over' });
  job.step('heatbook.unit.reflowed.v1', 'REFLOW-1', 14, {
    side: 'top',
    profile: { name: 'ZIB-PANEL-1-OVEN', revision: 'A' },
    heat: tracedHeat('oven-pass-sac305', job.now + 5),
  });
  const unit = { target: { kind: 'unit' as const }, operator: 'op-201' };
  job.step('heatbook.inspection.recorded.v1', 'INSP-1', 10, { ...unit, technique: 'visual', result: 'pass' });
  job.step('heatbook.inspection.recorded.v1', 'INSP-1', 15, { ...unit, technique: 'electrical', result: 'pass' });
  job.leavesBench();
  job.shipped();
}

/** A removal is broken off before anything melts; the second try goes through. */
export function abortedRemoval(shift: Shift): void {
  const job = shift.board('ZIB-PANEL-1', '0110').received();
  const heat = spanOf(job.now + 4, job.now + 8, [
    { id: 'TC1', position: 'joint', peakC: 188 },
    { id: 'TC2', position: 'body', peakC: 196 },
  ]);
  job.step('heatbook.site.heated.v1', job.lane.hotGas, 12, {
    refdes: 'U1',
    purpose: 'aborted',
    profile: job.profile('U1', 'OFF'),
    heat,
    operator: job.lane.operator,
    note: 'nozzle had slipped',
  });
  job.removed('U1');
  job.dressed('U1', 'vacuum');
  refit(job, 'U1');
}

/** X-ray finds an open joint; local heat closes it. The leaded heats of the board are logged. */
export function touchUp(shift: Shift): void {
  const job = shift.board('QRN-DRIVE-3', '0303').received();
  job.removed('U1', undefined, { trace: 'removal-snpb' });
  job.dressed('U1', 'braid', { heat: tracedHeat('braid-dressing-snpb', job.now + 3) });
  placedOpen(job, 'placement-snpb');
  const heat = spanOf(job.now + 4, job.now + 11, [
    { id: 'TC1', position: 'joint', peakC: 208.5, secondsAboveLiquidus: 61, liquidusC: 183 },
    { id: 'TC2', position: 'body', peakC: 212 },
  ]);
  touchedUp(job, heat);
}

/** The same without lead, every heat but the removal logged; a lead comes loose while the board cools. */
export function loggedTouchUp(shift: Shift): void {
  const job = shift.board('ZIB-PANEL-1', '0122').received();
  job.removed('U1');
  job.dressed('U1', 'vacuum', { heat: tracedHeat('vacuum-dressing-sac305', job.now + 2) });
  placedOpen(job, 'placement-sac305');
  touchedUp(job, tracedHeat('touch-up-sac305', job.now + 4));
}

function placedOpen(job: UnitJob, trace: string): void {
  job.cleaned('U1');
  job.inspected('U1', 'visual');
  const device = job.fresh(`N-${job.serial}`, 'U1');
  job.placed('U1', device, { trace });
  job.inspected('U1', 'xray', { result: 'fail', defects: [{ code: 'open', pads: ['C7'] }] });
}

function touchedUp(job: UnitJob, heat: Heat): void {
  job.step('heatbook.site.heated.v1', job.lane.hotGas, 14, {
    refdes: 'U1',
    purpose: 'touch-up',
    profile: job.profile('U1', 'ON'),
    heat,
    operator: job.lane.operator,
  });
  finish(job, 'U1');
}
