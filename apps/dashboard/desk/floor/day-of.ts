import { dateAndTime } from '../kit/time-words.js';

/** The day of a moment, here: `2026-03-03`. @param at RFC 3339 */
export function dayOf(at: string): string {
  return dateAndTime(at).slice(0, 10);
}
