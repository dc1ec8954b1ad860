import { HoldSubject } from '../../domain/holds/hold-subject.js';
import { BudgetKind } from '../../domain/limits/limit-rule.js';

const TIME = /^(\d{4}-\d\d-\d\d)T(\d\d:\d\d:\d\d)(\.\d+)?(Z|[+-].*)$/i;

/**
 * An RFC 3339 time as it was told, to be read by people: a blank for the `T`, and one before the offset. A fraction of a
 * second that is nought is left out.
 */
export function shownTime(time: string): string {
  const [, day, clock, fraction = '', offset = ''] = TIME.exec(time) ?? [];
  if (day === undefined || clock === undefined) return time;
  const shownFraction = /^\.0*$/.test(fraction) ? '' : fraction;
  return `${day} ${clock}${shownFraction} ${offset.toUpperCase() === 'Z' ? 'UTC' : offset}`;
}

/** A figure without more decimals than help, with its unit. */
export function figure(value: number, unit: string, decimals = 2): string {
  const shown = String(Number(value.toFixed(decimals)));
  return unit === '' ? shown : `${shown} ${unit}`;
}

/** A length of time in s, as minutes and seconds. */
export function shownDuration(seconds: number): string {
  const whole = Math.round(seconds);
  const minutes = Math.floor(whole / 60);
  return minutes === 0 ? `${String(whole)} s` : `${String(minutes)} min ${String(whole % 60)} s`;
}

/** What something is about, without the unit that the whole document is about. */
export function shownSubject(subject: HoldSubject): string {
  switch (subject.kind) {
    case 'unit':
      return 'unit';
    case 'site':
      return `site ${subject.refdes}`;
    case 'device':
      return `device ${subject.device}`;
    case 'station':
      return `station ${subject.station}`;
    case 'operator':
      return `operator ${subject.operator}`;
    case 'profile':
      return `profile ${subject.name}@${subject.revision}`;
  }
}

/** What is spent of a subject, which says by itself whether it is a device, a site or the unit. */
export const BUDGET_WORDS: Readonly<Record<BudgetKind, string>> = {
  'device-excursions': 'excursions',
  'site-reworks': 'reworks',
  'site-dressings': 'dressings',
  'site-excursions': 'excursions',
  'unit-reflows': 'whole-board passes',
};

/** `1 entry`, `2 entries`. */
export function counted(count: number, one: string, many: string): string {
  return `${String(count)} ${count === 1 ? one : many}`;
}

/** Items in a row; beyond `most` only their number. */
export function listed(items: readonly string[], most: number): string {
  const left = items.length - most;
  return left <= 0 ? items.join(', ') : `${items.slice(0, most).join(', ')} and ${String(left)} more (see the JSON)`;
}
