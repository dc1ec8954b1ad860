import { lengthInWords } from '../kit/time-words.js';
import { dayOf } from './day-of.js';

interface Calibration {
  readonly calibration: 'in-date' | 'due-soon' | 'overdue' | 'unknown';
  readonly calibrationDueAt: string | null;
}

interface Said {
  readonly tone: 'good' | 'caution' | 'stop' | 'plain';
  readonly word: string;
  /** Until when, or since when. */
  readonly when: string;
}

/** How a station's calibration stands. @param nowMs milliseconds since 1970 */
export function calibrationWords({ calibration, calibrationDueAt }: Calibration, nowMs: number): Said {
  if (calibrationDueAt === null || calibration === 'unknown')
    return { tone: 'plain', word: 'no date on record', when: '' };
  const day = dayOf(calibrationDueAt);
  if (calibration === 'overdue') return { tone: 'stop', word: 'overdue', when: `since ${day}` };
  if (calibration === 'due-soon') {
    // Overdue by the page's clock before the next answer says so.
    const left = lengthInWords(Math.max(0, Date.parse(calibrationDueAt) - nowMs));
    return { tone: 'caution', word: 'due soon', when: `${day}, in ${left}` };
  }
  return { tone: 'good', word: 'in date', when: `to ${day}` };
}
