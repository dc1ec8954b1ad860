import { digitAt, twoDigits } from './two-digits.js';

/** Identity of a station event: unique per source. */
export interface EventRef {
  readonly source: string;
  readonly id: string;
}

/** Where an event stands in the order in which things happened: by time, then source, then id. */
export interface EventOrder extends EventRef {
  /** UTC with nine fractional digits, so that text order is time order. */
  readonly at: string;
}

/**
 * RFC 3339 time with offset to UTC text with nine fractional digits, keeping what a Date would round away.
 * @throws RangeError where the text is no such time (a leap second included: no clock on a bench shows one).
 */
export function orderTime(rfc3339: string): string {
  return utcOrderTime(rfc3339) ?? anyOrderTime(rfc3339);
}

const [DASH, DOT, COLON, T, Z] = [0x2d, 0x2e, 0x3a, 0x54, 0x5a];
const DAYS_IN_MONTH = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const NO_FRACTION = 19;
const NINE_DIGITS = 29;

/**
 * The same for how most write it, in UTC (`2031-03-03T10:00:00.250Z`) and to no more than a nanosecond, checked by
 * arithmetic: in a fold it is asked for some 20 times an event, and the way over Date takes ten times as long.
 * @returns undefined for all else, whether it is a time or not.
 */
function utcOrderTime(text: string): string | undefined {
  const end = text.length - 1;
  const isForm =
    end >= NO_FRACTION &&
    end <= NINE_DIGITS &&
    text.charCodeAt(4) === DASH &&
    text.charCodeAt(7) === DASH &&
    text.charCodeAt(10) === T &&
    text.charCodeAt(13) === COLON &&
    text.charCodeAt(16) === COLON &&
    text.charCodeAt(end) === Z;
  if (!isForm || !dayExists(text) || !clockExists(text)) return undefined;
  if (end === NO_FRACTION) return `${text.slice(0, NO_FRACTION)}.000000000Z`;
  if (text.charCodeAt(NO_FRACTION) !== DOT || end === NO_FRACTION + 1) return undefined;
  for (let at = NO_FRACTION + 1; at < end; at += 1) if (Number.isNaN(digitAt(text, at))) return undefined;
  return end === NINE_DIGITS ? text : `${text.slice(0, end).padEnd(NINE_DIGITS, '0')}Z`;
}

function dayExists(text: string): boolean {
  const year = twoDigits(text, 0) * 100 + twoDigits(text, 2);
  const month = twoDigits(text, 5);
  const day = twoDigits(text, 8);
  const isLeap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  return year >= 0 && day >= 1 && day <= (DAYS_IN_MONTH[month - 1] ?? 0) && (month !== 2 || day < 29 || isLeap);
}

function clockExists(text: string): boolean {
  return twoDigits(text, 11) < 24 && twoDigits(text, 14) < 60 && twoDigits(text, 17) < 60;
}

/**
 * The same for every form that there is.
 * @throws as `orderTime`
 */
export function anyOrderTime(rfc3339: string): string {
  const parts = /^(\d{4}-\d\d-\d\d)[Tt ]((?:[01]\d|2[0-3]):\d\d:\d\d)(?:\.(\d{1,9})\d*)?([Zz]|[+-]\d\d:\d\d)$/.exec(
    rfc3339,
  );
  const [, day, clock, fraction = '', offset] = parts ?? [];
  const seconds = parts === null ? NaN : Date.parse(`${String(day)}T${String(clock)}${String(offset).toUpperCase()}`);
  const isDay = !Number.isNaN(seconds) && new Date(`${String(day)}T00:00:00Z`).toISOString().slice(0, 10) === day;
  if (!isDay) throw new RangeError(`not an RFC 3339 time: ${rfc3339}`);
  return `${new Date(seconds).toISOString().slice(0, 19)}.${fraction.padEnd(9, '0')}Z`;
}

/** Negative where a happened before b, 0 for the same event. */
export function compareOrder(a: EventOrder, b: EventOrder): number {
  return compareText(a.at, b.at) || compareText(a.source, b.source) || compareText(a.id, b.id);
}

/** By UTF-16 code units: the same on every machine, whatever its locale. */
export function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

export function refKey(event: EventRef): string {
  return `${event.source} ${event.id}`;
}

/** A normalised time as people read it: without the fraction where that is nought. */
export function readableTime(at: string): string {
  return at.replace(/\.?0+Z$/, 'Z');
}
