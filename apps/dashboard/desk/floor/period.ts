/** Whole days here, as addresses carry them; either end may be open. */
export interface Period {
  /** `2026-03-01`, its first day. */
  readonly from?: string;
  /** Its last day. */
  readonly to?: string;
}

/** A period as the API takes it: RFC 3339, `to` exclusive. */
export interface Instants {
  readonly from?: string;
  readonly to?: string;
}

const DAY = /^\d{4}-\d{2}-\d{2}$/;

/** The period in an address. What is no day is left out. */
export function readPeriod(params: URLSearchParams): Period {
  const [from, to] = ['from', 'to'].map((end) => dayIn(params.get(end)));
  return { ...(from !== undefined && { from }), ...(to !== undefined && { to }) };
}

function dayIn(text: string | null): string | undefined {
  if (text === null || !DAY.test(text) || Number.isNaN(Date.parse(text))) return undefined;
  // Dates roll over: the 31st of February would be another day than was asked for.
  return new Date(text).toISOString().startsWith(text) ? text : undefined;
}

/** The address's parameters with another period in them, everything else kept. */
export function writePeriod(params: URLSearchParams, { from, to }: Period): URLSearchParams {
  const next = new URLSearchParams(params);
  for (const [end, day] of [
    ['from', from],
    ['to', to],
  ] as const) {
    if (day === undefined) next.delete(end);
    else next.set(end, day);
  }
  return next;
}

/** The period with another day at one end, or, with an empty text, with that end open. */
export function withEnd({ from, to }: Period, end: 'from' | 'to', day: string): Period {
  const ends = { from, to, [end]: day === '' ? undefined : day };
  return { ...(ends.from !== undefined && { from: ends.from }), ...(ends.to !== undefined && { to: ends.to }) };
}

/** From midnight here before its first day to midnight after its last. */
export function instantsOf({ from, to }: Period): Instants {
  return {
    ...(from !== undefined && { from: midnight(from, 0).toISOString() }),
    ...(to !== undefined && { to: midnight(to, 1).toISOString() }),
  };
}

/** The last so many days, today among them. @param nowMs milliseconds since 1970 */
export function lastDays(days: number, nowMs: number): Period {
  const first = new Date(nowMs);
  first.setDate(first.getDate() - (days - 1));
  return { from: dayText(first) };
}

/** Days that are shown unless somebody takes others. */
const SHOWN_DAYS = 30;

/** Before anything that a book could have of electronics on surface-mount boards. */
const EVER = '1980-01-01';

/**
 * A period with both ends. Where both are open: a month up to the day of the newest there is, or, where that is not known, all
 * time up to today. Where one is: up to today, or a month back.
 * @param newestMs when the newest of what is looked for happened; undefined where that is not known
 * @param nowMs both in milliseconds since 1970
 */
export function closed({ from, to }: Period, newestMs: number | undefined, nowMs: number): Required<Period> {
  const today = dayText(new Date(nowMs));
  if (from !== undefined) return { from, to: to ?? today };
  if (to === undefined && newestMs === undefined) return { from: EVER, to: today };
  const end = to ?? dayText(new Date(newestMs ?? nowMs));
  return { from: dayText(midnight(end, 1 - SHOWN_DAYS)), to: end };
}

/** Whether a closed period goes back to before everything. */
export function isAllTime({ from }: Required<Period>): boolean {
  return from === EVER;
}

/** The period in words; all time is said to be that. */
export function periodWords({ from, to }: Required<Period>): string {
  return from === EVER ? `up to ${to}` : `from ${from} to ${to}`;
}

function midnight(day: string, daysOn: number): Date {
  const date = new Date(`${day}T00:00:00`);
  date.setDate(date.getDate() + daysOn);
  return date;
}

function dayText(date: Date): string {
  const two = (part: number) => String(part).padStart(2, '0');
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}
