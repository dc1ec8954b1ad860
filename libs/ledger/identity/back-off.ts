/** Wrong passwords of one account, one after another. */
export interface Attempts {
  readonly failures: number;
  /** RFC 3339 UTC, of the last one. */
  readonly lastAt: string;
}

/**
 * Where a password is asked for: of whoever wants to come in, or of somebody who has signed in and signs. They are counted
 * apart, so that a stranger who guesses at the door keeps nobody from signing who is in already.
 */
export type AskedAt = 'door' | 'desk';

/** What wrong passwords are counted under. No account has a name with a space in it. */
export function countedAs(name: string, askedAt: AskedAt): string {
  return askedAt === 'door' ? name : `${name} ${askedAt}`;
}

/** So many may be wrong in a row before waiting begins. */
const FREE_FAILURES = 5;
const FIRST_WAIT_MS = 1_000;
const LONGEST_WAIT_MS = 15 * 60_000;

/** Failures are forgotten after an hour without one: trying only that often gains nothing over the longest wait. */
export const FORGOTTEN_AFTER_MS = 60 * 60_000;

/** @param at RFC 3339 UTC */
export function afterFailure(before: Attempts | undefined, at: string): Attempts {
  return { failures: isForgotten(before, at) ? 1 : before.failures + 1, lastAt: at };
}

/** How long until a password may be tried again, in ms; 0 for at once. Doubles from 1 s at the fifth failure to 15 min. */
export function waitMs(attempts: Attempts | undefined, at: string): number {
  if (isForgotten(attempts, at) || attempts.failures < FREE_FAILURES) return 0;
  const wholeMs = Math.min(FIRST_WAIT_MS * 2 ** (attempts.failures - FREE_FAILURES), LONGEST_WAIT_MS);
  // Another process's clock may be ahead of ours; nobody waits longer than the whole wait for that.
  return Math.min(wholeMs, Math.max(0, Date.parse(attempts.lastAt) + wholeMs - Date.parse(at)));
}

function isForgotten(attempts: Attempts | undefined, at: string): attempts is undefined {
  return attempts === undefined || Date.parse(at) - Date.parse(attempts.lastAt) >= FORGOTTEN_AFTER_MS;
}
