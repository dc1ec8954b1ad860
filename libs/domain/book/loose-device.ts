import { Heat } from '../events/heat.js';
import { DeviceDeballed, EventOf } from '../events/station-event.js';
import { DEVICE_POSITIONS, governingAlloy, measuredVerdict } from '../heat/excursion-verdict.js';
import { ballAlloys } from './ball-alloys.js';
import { checkBodyPeak } from './body-rules.js';
import { checkTrace } from './check-trace.js';
import { checkFloorLife } from './dry-rules.js';
import { countHeat, countingLine } from './exposure.js';
import { Inference, none, one } from './inference.js';
import { deviceSubject, Judgement } from './judgement.js';
import { ensureDevice, warnUnknownHistory } from './open-subjects.js';
import { whereabouts } from './receive.js';
import { DeviceState } from './state.js';

const DEBALLING: Record<DeviceDeballed['method'], Inference> = {
  braid: none('braid deballing'),
  vacuum: none('vacuum deballing'),
  fountain: one('fountain deballing'),
  coupon: one('coupon deballing'),
};

export function deviceDeballed(j: Judgement<EventOf<'heatbook.device.deballed.v1'>>, name: string): void {
  const device = looseDevice(j, name, 'deballed');
  countLoose(j, device, j.event.data.heat, DEBALLING[j.event.data.method]);
  j.emit({ kind: 'balls', device: name, balls: { state: 'none' } });
}

export function deviceReballed(j: Judgement<EventOf<'heatbook.device.reballed.v1'>>, name: string): void {
  const { ballAlloy, heat } = j.event.data;
  const device = looseDevice(j, name, 'reballed');
  j.emit({ kind: 'balls', device: name, balls: { state: 'reballed', alloy: ballAlloy } });
  countLoose(j, device, heat, one('reballing'));
}

/** The device on the bench; one that the book has elsewhere is worked on all the same, and the contradiction held. */
function looseDevice(j: Judgement, name: string, step: string): DeviceState {
  const device = ensureDevice(j, name, null);
  if (device.excursions.prior.basis === 'unknown') warnUnknownHistory(j, name);
  if (device.status !== 'loose') {
    j.hold(
      'sequence-broken',
      deviceSubject(name),
      { summary: `Device ${name} was ${step} while the book has it ${whereabouts(j, name)}.` },
      'Post the removal that is missing, or have the wrong event annulled and post it again with the right device or time.',
    );
  }
  return device;
}

function countLoose(j: Judgement, device: DeviceState, heat: Heat | undefined, inference: Inference): void {
  const subject = deviceSubject(device.device);
  const alloys = ballAlloys(j, device);
  if (heat !== undefined && heat.thermocouples.length > 0 && governingAlloy(alloys) === undefined) {
    j.warn(
      'alloy-unknown',
      subject,
      `The melting range of the balls of device ${device.device} is not known, so its readings could not be judged.`,
      'Enter its part with a ball alloy that the house knows.',
    );
  }
  const verdict = measuredVerdict(heat?.thermocouples ?? [], DEVICE_POSITIONS, countingLine(j, subject, alloys));
  countHeat(j, { subject, limit: 'device-excursions', verdict, inference });
  if (inference.spends !== 'none') checkFloorLife(j, device);
  checkBodyPeak(j, device, heat?.thermocouples ?? []);
  checkTrace(j, subject, heat, alloys);
}
