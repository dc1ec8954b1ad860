import { orderTime, readableTime } from '../../domain/events/event-order.js';

/** What is suspected: exactly one of these. */
export type SuspectCause =
  | { readonly kind: 'station'; readonly station: string }
  | { readonly kind: 'operator'; readonly operator: string }
  /** Every revision where none is named. */
  | { readonly kind: 'profile'; readonly name: string; readonly revision?: string }
  | { readonly kind: 'device'; readonly device: string }
  | { readonly kind: 'part'; readonly part: string }
  | { readonly kind: 'lot'; readonly lot: string }
  | { readonly kind: 'solder-alloy'; readonly solderAlloy: string }
  /** By its name in the setup. */
  | { readonly kind: 'limit'; readonly limit: string };

/** Half open; normalised UTC with six fractional digits, so that text order is time order. */
export interface Interval {
  readonly from: string;
  readonly to: string;
}

/** A cause together with when it was one. */
export interface Suspicion extends Interval {
  readonly cause: SuspectCause;
}

/**
 * A time to the microsecond, which is what Postgres keeps. What lies within one is cut off, so that a bound in whole
 * microseconds divides the times that it was made of and the times as they were written alike.
 * @throws RangeError where the text is no RFC 3339 time
 */
export function microTime(rfc3339: string): string {
  return `${orderTime(rfc3339).slice(0, 26)}Z`;
}

export function within({ from, to }: Interval, at: string): boolean {
  return at >= from && at < to;
}

/** A cause as people say it. */
export function nameOfCause(cause: SuspectCause): string {
  switch (cause.kind) {
    case 'station':
      return `station ${cause.station}`;
    case 'operator':
      return `operator ${cause.operator}`;
    case 'profile':
      return `profile ${cause.name}, ${cause.revision === undefined ? 'all revisions' : `revision ${cause.revision}`}`;
    case 'device':
      return `device ${cause.device}`;
    case 'part':
      return `part ${cause.part}`;
    case 'lot':
      return `lot ${cause.lot}`;
    case 'solder-alloy':
      return `solder alloy ${cause.solderAlloy}`;
    case 'limit':
      return `limit ${cause.limit}`;
  }
}

/** "station HG-2 from … to …" */
export function sayInterval({ from, to }: Interval): string {
  return `from ${readableTime(from)} to ${readableTime(to)}`;
}
