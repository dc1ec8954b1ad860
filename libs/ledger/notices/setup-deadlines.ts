import { orderTime, readableTime } from '../../domain/events/event-order.js';
import { LEAD_TIMES } from '../../domain/notices/lead-times.js';
import { Skill } from '../../domain/setup/setup-data.js';
import { SetupBook } from '../setup/setup-book.js';
import { Deadline, levelAt } from './notice.js';

const DAY_MS = 86_400_000;

/** What the setup says is due, or soon will be, at `now` (RFC 3339): calibrations and qualifications. */
export function setupDeadlines(setup: SetupBook, now: string): Deadline[] {
  return [...calibrations(setup, now), ...qualifications(setup, now)];
}

function calibrations(setup: SetupBook, now: string): Deadline[] {
  return setup.all('station').flatMap((revision) => {
    const dueAt = revision.kind === 'station' ? revision.body.calibrationDueAt : undefined;
    const at = dueAt === undefined ? undefined : levelOf(dueAt, LEAD_TIMES.calibrationDays, now);
    if (at === undefined) return [];
    const { name: station } = revision;
    const when = readableTime(orderTime(at.dueAt));
    const detail =
      at.level === 'due'
        ? `The calibration of ${station} was due at ${when}: what it measures since then counts as uncalibrated.`
        : `The calibration of ${station} is due at ${when}.`;
    const remedy = `Calibrate ${station} and record the new due date in its setup.`;
    return [{ kind: 'calibration', ...at, subject: { kind: 'station', station }, item: '', detail, remedy }];
  });
}

function qualifications(setup: SetupBook, now: string): Deadline[] {
  return setup.all('operator').flatMap((revision) => {
    if (revision.kind !== 'operator') return [];
    const { name: operator } = revision;
    return [...longest(revision.body.qualifications)].flatMap(([skill, validUntil]): Deadline[] => {
      const at = levelOf(validUntil, LEAD_TIMES.qualificationDays, now);
      if (at === undefined) return [];
      const when = readableTime(orderTime(at.dueAt));
      const runs = at.level === 'due' ? 'ran' : 'runs';
      const detail = `The qualification of ${operator} for ${skill} ${runs} out at ${when}.`;
      const remedy = `Qualify ${operator} for ${skill} anew and record until when, or take it out of their qualifications.`;
      return [{ kind: 'qualification', ...at, subject: { kind: 'operator', operator }, item: skill, detail, remedy }];
    });
  });
}

/** A skill may be listed more than once; it is held until the last of them runs out. */
function longest(listed: readonly { readonly skill: Skill; readonly validUntil: string }[]): Map<Skill, string> {
  const until = new Map<Skill, string>();
  for (const { skill, validUntil } of listed) {
    const known = until.get(skill);
    if (known === undefined || orderTime(known) < orderTime(validUntil)) until.set(skill, validUntil);
  }
  return until;
}

/** The warning that an instant asks for at `now`, given so many days ahead; both RFC 3339. None while it is far off. */
export function levelOf(at: string, leadDays: number, now: string): Pick<Deadline, 'level' | 'dueAt'> | undefined {
  const dueMs = Date.parse(orderTime(at));
  const dueAt = new Date(dueMs).toISOString();
  const level = levelAt(now, new Date(dueMs - leadDays * DAY_MS).toISOString(), dueAt);
  return level === undefined ? undefined : { level, dueAt };
}
