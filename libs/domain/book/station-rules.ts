import { orderTime } from '../events/event-order.js';
import { Heat, ProfileRef, ThermocoupleSummary } from '../events/heat.js';
import { StationEvent } from '../events/station-event.js';
import { breachOf } from '../limits/breach.js';
import { LimitKind } from '../limits/limit-rule.js';
import { ResolvedLimit, resolveLimit } from '../limits/resolve-limit.js';
import { profileName, ProfileWindow, Skill } from '../setup/setup-data.js';
import { parseStream, Subject } from '../subject/subject.js';
import { limitPlace } from './budgets.js';
import { deviceSubject, Judgement, tellBreach } from './judgement.js';

/** Breaks a rule that is not a budget: a hold, or a warning where the limit only warns. */
export function breakRule(
  j: Judgement,
  limit: ResolvedLimit,
  subject: Subject,
  summary: string,
  remedy: string,
  details?: readonly string[],
): void {
  tellBreach(j, subject, breachOf(limit, { summary, remedy, ...(details && { details }) }));
}

export function ruleFor(j: Judgement, kind: LimitKind, subject: Subject): ResolvedLimit | undefined {
  return resolveLimit(j.rules, kind, limitPlace(j.world, j.rules, subject, j.event.order.at));
}

/** The unit or device that an event is about; stations are subject to no limit. */
export function ownSubject(event: StationEvent): Exclude<Subject, { kind: 'site' }> | undefined {
  const stream = parseStream(event.subject);
  if (stream?.kind === 'unit') return { kind: 'unit', assembly: stream.assembly, serial: stream.serial };
  return stream?.kind === 'device' ? deviceSubject(stream.device) : undefined;
}

/** A measuring step at a station whose calibration was due counts as uncalibrated. */
export function checkCalibration(j: Judgement): void {
  const { event } = j;
  const subject = ownSubject(event);
  const due = j.rules.find('station', event.station)?.body.calibrationDueAt;
  if (subject === undefined || due === undefined || !measures(event) || event.order.at < orderTime(due)) return;
  const limit = ruleFor(j, 'calibrated-station', subject);
  if (limit === undefined) return;
  breakRule(
    j,
    limit,
    subject,
    `Station ${event.station} was due for calibration at ${due} and measured at ${event.time}.`,
    `Calibrate ${event.station}, record the new due date in its setup, and judge whether the readings stand.`,
  );
}

function measures(event: StationEvent): boolean {
  return 'heat' in event.data || 'temperatureC' in event.data || event.type === 'heatbook.inspection.recorded.v1';
}

/** The skill that a step asks of its operator, if any. */
function skillFor(event: StationEvent): Skill | undefined {
  switch (event.type) {
    case 'heatbook.device.removed.v1':
      return 'removal';
    case 'heatbook.device.placed.v1':
      return 'placement';
    case 'heatbook.device.reballed.v1':
      return 'reballing';
    case 'heatbook.device.deballed.v1':
    case 'heatbook.site.dressed.v1':
      return event.data.method;
    case 'heatbook.site.heated.v1':
      return event.data.purpose === 'touch-up' ? 'touch-up' : undefined;
    case 'heatbook.inspection.recorded.v1':
      return 'inspection';
    default:
      return undefined;
  }
}

/** An event that names no operator claims nothing and is not warned about. */
export function checkOperator(j: Judgement): void {
  const { event } = j;
  const { operator } = event.data;
  const skill = skillFor(event);
  const subject = ownSubject(event);
  if (operator === undefined || skill === undefined || subject === undefined) return;
  const known = j.rules.find('operator', operator);
  if (known === undefined) {
    j.warn(
      'operator-unknown',
      subject,
      `Operator ${operator} is not in the setup.`,
      `Enter ${operator} with their qualifications.`,
    );
    return;
  }
  const limit = ruleFor(j, 'qualified-operator', subject);
  if (limit === undefined) return;
  const held = known.body.qualifications.filter((qualification) => qualification.skill === skill);
  if (held.some(({ validUntil }) => event.order.at < orderTime(validUntil))) return;
  const state =
    held.length === 0 ? `holds no qualification for ${skill}` : `held a qualification for ${skill} that had run out`;
  breakRule(
    j,
    limit,
    subject,
    `Operator ${operator} ${state}.`,
    `Qualify ${operator} for ${skill}, or have the step inspected by someone who is.`,
  );
}

export function checkProfileKnown(j: Judgement, profile: ProfileRef | undefined): void {
  const subject = ownSubject(j.event);
  if (profile === undefined || subject === undefined || j.rules.find('profile', profileName(profile)) !== undefined)
    return;
  j.warn(
    'profile-unknown',
    subject,
    `Profile ${profile.name} revision ${profile.revision} is not in the setup, so neither its window nor its neighbours' peaks are known.`,
    `Enter profile ${profile.name} revision ${profile.revision}.`,
  );
}

/** Holds the joint readings of a heat against the window of its profile revision, where that has one. */
export function checkWindow(
  j: Judgement,
  subject: Subject,
  profile: ProfileRef | undefined,
  readings: Heat['thermocouples'],
): void {
  const revision = profile && j.rules.find('profile', profileName(profile));
  const window = revision?.body.window;
  if (revision === undefined || window === undefined) return;
  const outside = readings
    .filter(({ position }) => position === 'joint')
    .flatMap((reading) => outsideOf(window, reading));
  const limit = outside.length === 0 ? undefined : ruleFor(j, 'profile-window', subject);
  if (limit === undefined || (typeof limit.allowed === 'number' && outside.length <= limit.allowed)) return;
  breakRule(
    j,
    limit,
    subject,
    `${String(outside.length)} figures outside the window of profile ${revision.name}.`,
    'Inspect the joints, then have quality decide; correct the heat before it is used again.',
    outside,
  );
}

function outsideOf(window: ProfileWindow, reading: ThermocoupleSummary): string[] {
  const at = `thermocouple ${reading.id}`;
  const found: string[] = [];
  const check = (
    what: string,
    value: number | undefined,
    least: number | undefined,
    most: number | undefined,
  ): void => {
    if (value === undefined) return;
    if (least !== undefined && value < least) found.push(`${at}: ${what} ${String(value)} below ${String(least)}`);
    if (most !== undefined && value > most) found.push(`${at}: ${what} ${String(value)} above ${String(most)}`);
  };
  check('peak C', reading.peakC, window.peakMinC, window.peakMaxC);
  check('s above liquidus', reading.secondsAboveLiquidus, window.aboveLiquidusMinS, window.aboveLiquidusMaxS);
  check('rise C/s', reading.maxRiseCPerS, undefined, window.riseMaxCPerS);
  check(
    'fall C/s',
    reading.maxFallCPerS === undefined ? undefined : Math.abs(reading.maxFallCPerS),
    undefined,
    window.fallMaxCPerS,
  );
  return found;
}
