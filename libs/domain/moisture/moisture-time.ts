export const HOUR_MS = 3_600_000;

/** From one normalised time (`orderTime`) to another, ms; whole ms are exact, fractions to the nanosecond. */
export function millisecondsBetween(from: string, to: string): number {
  const wholeMs = Date.parse(`${to.slice(0, 19)}Z`) - Date.parse(`${from.slice(0, 19)}Z`);
  return wholeMs + (Number(to.slice(20, 29)) - Number(from.slice(20, 29))) / 1e6;
}

/** A normalised time so many ms later, rounded up to the ms; null beyond the year 9999. */
export function laterBy(at: string, ms: number): string | null {
  const startMs = Date.parse(`${at.slice(0, 19)}Z`) + Number(at.slice(20, 29)) / 1e6;
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
