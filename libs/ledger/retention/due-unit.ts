/** How long the units of a customer are kept, as the setup says now. */
export interface RetentionTerm {
  readonly customer: string;
  /** Whole years. */
  readonly keepYears: number;
}

/** A unit that has been kept for as long as was agreed and that no legal hold is over. */
export interface DueUnit extends RetentionTerm {
  readonly assembly: string;
  readonly serial: string;
  readonly state: 'shipped' | 'scrapped';
  /** When it was last shipped or scrapped, RFC 3339 UTC. */
  readonly leftAt: string;
  /** When its time was over, RFC 3339 UTC. */
  readonly keptUntil: string;
}

/**
 * The same day and time whole years later, in UTC; where there is no such day, the last of February.
 * @param at RFC 3339
 * @returns RFC 3339 UTC
 */
export function yearsAfter(at: string, years: number): string {
  const then = new Date(at);
  const month = then.getUTCMonth();
  then.setUTCFullYear(then.getUTCFullYear() + years);
  if (then.getUTCMonth() !== month) then.setUTCDate(0);
  return then.toISOString();
}
