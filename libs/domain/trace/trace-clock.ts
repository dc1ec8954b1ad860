import { LONGEST_CELL, readCell } from './read-cell.js';

const DAY_S = 86_400;

/** A time cell: a plain count in the column's unit, or a time of day in seconds, with its day where the date is ISO; `short`: minutes and seconds alone. */
export type TimeCell =
  | { readonly form: 'plain'; readonly count: number }
  | { readonly form: 'clock'; readonly secondsOfDay: number; readonly day?: number; readonly short?: true };

const CLOCK =
  /^(?:(\d{1,4}[-./]\d{1,2}[-./]\d{1,4})[T ,]+)?(\d{1,3}):(\d{2})(?::(\d{2}))?(?:[.,:](\d{1,9}))?\s*([ap]\.?m\.?)?\s*(?:Z|[+-]\d{2}:?\d{2})?$/i;
const DATE_ALONE = /^\d{1,4}[-./]\d{1,2}[-./]\d{1,4}$/;

/** Whether a cell holds a date without a time of day, which the next cell is then expected to give. */
export function isDate(text: string): boolean {
  return DATE_ALONE.test(text);
}

/**
 * Reads seconds as a number (decimal point or comma), H:MM:SS with any fraction, MM:SS, either with a date before it, or
 * AM and PM behind. Undefined where the text is none of these.
 */
export function readTime(text: string): TimeCell | undefined {
  const plain = readCell(text);
  if (typeof plain === 'number') return { form: 'plain', count: plain };
  const match = text.length > LONGEST_CELL ? null : CLOCK.exec(text);
  if (match === null) return undefined;
  const [, date, first = '0', second = '0', third, fraction, half] = match;
  const withHours = third !== undefined || date !== undefined || half !== undefined;
  const hours = withHours ? twelveHours(Number(first), half) : 0;
  const minutes = withHours ? Number(second) : Number(first);
  const whole = withHours ? Number(third ?? 0) : Number(second);
  if ((withHours && minutes > 59) || whole > 59) return undefined;
  const secondsOfDay = hours * 3600 + minutes * 60 + whole + Number(`0.${fraction ?? '0'}`);
  const day = date === undefined ? undefined : isoDay(date);
  return {
    form: 'clock',
    secondsOfDay,
    ...(day !== undefined && { day }),
    ...(!withHours && { short: true as const }),
  };
}

function twelveHours(hours: number, half: string | undefined): number {
  if (half === undefined) return hours;
  return (hours % 12) + (half.toLowerCase().startsWith('p') ? 12 : 0);
}

/** Days since 1970 of a year-first date. Others (is 3/4 in March or April?) only tell that the day changed. */
function isoDay(date: string): number | undefined {
  const match = /^(\d{4})[-./](\d{1,2})[-./](\d{1,2})$/.exec(date);
  return match === null
    ? undefined
    : Date.UTC(Number(match[1]), Number(match[2]) - 1, Number(match[3])) / (DAY_S * 1000);
}

/**
 * Puts a column of clock times on one scale of seconds. Where no date says so, a step back of more than half a day is a
 * midnight that was passed, and a step forward of more than half a day is one in a file written backwards.
 */
export class ClockScale {
  private days = 0;
  private lastOfDay: number | undefined;
  /** Midnights passed without a date to tell. */
  midnights = 0;

  secondsOf(cell: TimeCell & { form: 'clock' }): number {
    if (cell.day !== undefined) return cell.day * DAY_S + cell.secondsOfDay;
    const step = cell.secondsOfDay - (this.lastOfDay ?? cell.secondsOfDay);
    if (Math.abs(step) > DAY_S / 2) {
      this.days -= Math.sign(step);
      this.midnights++;
    }
    this.lastOfDay = cell.secondsOfDay;
    return this.days * DAY_S + cell.secondsOfDay;
  }
}
