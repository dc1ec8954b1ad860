import { twoDigits } from '../events/two-digits.js';

export const HOUR_MS = 3_600_000;

/** From one normalised time (`orderTime`) to another, ms; whole ms are exact, fractions to the nanosecond. */
export function millisecondsBetween(from: string, to: string): number {
  return wholeSecondMs(to) - wholeSecondMs(from) + (Number(to.slice(20, 29)) - Number(from.slice(20, 29))) / 1e6;
}

const DASH = 0x2d;
/** The calendar repeats after 400 years, of 146 097 days. */
const CYCLE_YEARS = 400;
const CYCLE_MS = 146_097 * 24 * HOUR_MS;

/**
 * A normalised time without its fraction, in ms since 1970; read digit by digit, which takes a quarter of the time of
 * Date.parse. A cycle of the calendar later, since Date.UTC takes the years 0 to 99 for those of the last century.
 */
function wholeSecondMs(at: string): number {
  // A year of more than four digits, which an offset can make of the last or the first day that there is.
  if (at.charCodeAt(4) !== DASH) return Date.parse(`${at.slice(0, 19)}Z`);
  const year = twoDigits(at, 0) * 100 + twoDigits(at, 2) + CYCLE_YEARS;
  const [month, day] = [twoDigits(at, 5) - 1, twoDigits(at, 8)];
  return Date.UTC(year, month, day, twoDigits(at, 11), twoDigits(at, 14), twoDigits(at, 17)) - CYCLE_MS;
}

/** A normalised time so many ms later, rounded up to the ms; null beyond the year 9999. */
export function laterBy(at: string, ms: number): string | null {
  const startMs = wholeSecondMs(at) + Number(at.slice(20, 29)) / 1e6;
  const end = new Date(Math.ceil(startMs + ms));
  if (Number.isNaN(end.getTime()) || end.getUTCFullYear() > 9999) return null;
  return `${end.toISOString().slice(0, 23)}000000Z`;
}

/**
 * End of the shelf life of a sealed dry pack: 12 months, below 40 C / 90 %RH. J-STD-033, published. Where the day does
 * not exist a year later, the day before it.
 */
export function shelfEndsAt(sealedAt: string): string {
  const year = String(Math.min(9999, Number(sealedAt.slice(0, 4)) + 1)).padStart(4, '0');
  return `${year}${sealedAt.slice(4).replace(/^-02-29/, '-02-28')}`;
}
