import { SiteDressed } from '../../../libs/domain/events/station-event.js';
import { UnitJob } from './unit-job.js';

/** A board of which one device is replaced by a new one: every step done, nothing amiss. */
export function replaceDevice(job: UnitJob, refdes: string, method: SiteDressed['method']): UnitJob {
  job.received();
  job.removed(refdes);
  job.dressed(refdes, method);
  return refit(job, refdes);
}

/** From the dressed site to the parcel. */
export function refit(job: UnitJob, refdes: string): UnitJob {
  job.cleaned(refdes);
  job.inspected(refdes, 'visual');
  job.placed(refdes, job.fresh(`N-${job.serial}`, refdes));
  return finish(job, refdes);
}

/** From the placed device to the parcel. */
export function finish(job: UnitJob, refdes: string): UnitJob {
  job.finished(refdes);
  job.leavesBench();
  job.shipped();
  return job;
}

/** A leaded joint made lead-free: remnant taken off, pads flushed with lead-free solder, lead measured. */
export function convertSite(job: UnitJob, refdes: string): UnitJob {
  job.received({ complaint: 'conversion to lead-free' });
  job.removed(refdes);
  job.dressed(refdes, 'braid', { solderAlloy: 'Sn63Pb37' });
  job.dressed(refdes, 'fountain', { solderAlloy: 'SAC305' });
  job.inspected(refdes, 'xrf', { leadPct: 0.04 });
  return refit(job, refdes);
}
