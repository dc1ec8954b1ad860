import { classTemperature } from '../classification/class-temperature.js';
import { Heat } from '../events/heat.js';
import { isLeaded } from '../heat/alloys.js';
import { deviceSubject, Judgement } from './judgement.js';
import { DeviceState } from './state.js';
import { breakRule, ruleFor } from './station-rules.js';

/**
 * Holds body readings of a device against the class temperature of its part (J-STD-020: the body stays at or below it).
 * The reading counts as it is: its uncertainty is not added, since the figure is a rating and no melting point.
 */
export function checkBodyPeak(j: Judgement, device: DeviceState, readings: Heat['thermocouples']): void {
  const part = device.part === null ? undefined : j.rules.find('part', device.part)?.body;
  const bodies = readings.filter(({ position }) => position === 'body');
  if (part === undefined || bodies.length === 0) return;
  const { lengthMm, widthMm, thicknessMm, classificationC } = part;
  const own = classificationC === undefined ? {} : { classificationC };
  const rated = classTemperature({ lengthMm, widthMm, thicknessMm, leadFree: !isLeaded(part.ballAlloy), ...own });
  const subject = deviceSubject(device.device);
  const limit = ruleFor(j, 'body-peak-max', subject);
  if (limit === undefined || typeof limit.allowed !== 'number') return;
  const mostC = rated.classC + limit.allowed;
  const over = bodies.filter(({ peakC }) => peakC > mostC);
  if (over.length === 0) return;
  breakRule(
    j,
    limit,
    subject,
    `The body of device ${device.device} got hotter than its class temperature of ${String(rated.classC)} C (${rated.source}: ${rated.row}; ${rated.reference}).`,
    'Have quality decide whether the device may stay; correct the heat before it is used again.',
    over.map(({ id, peakC }) => `thermocouple ${id}: ${String(peakC)} C`),
  );
}
