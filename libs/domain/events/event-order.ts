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
  const parts = /^(\d{4}-\d\d-\d\d)[Tt ]((?:[01]\d|2[0-3]):\d\d:\d\d)(?:\.(\d{1,9})\d*)?([Zz]|[+-]\d\d:\d\d)$/.exec(
    rfc3339,
  );
  const [, day, clock, fraction = '', offset] = parts ?? [];
  const seconds = parts === null ? NaN : Date.parse(`${String(day)}T${String(clock)}${String(offset).toUpperCase()}`);
  const dayExists = !Number.isNaN(seconds) && new Date(`${String(day)}T00:00:00Z`).toISOString().slice(0, 10) === day;
  if (!dayExists) throw new RangeError(`not an RFC 3339 time: ${rfc3339}`);
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
