const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const DAY_MS = 24 * HOUR_MS;

/** A length of time in the two units that matter: `3 d 4 h`, `2 h 5 min`, `4 min`. @param ms not negative */
export function lengthInWords(ms: number): string {
  if (ms >= DAY_MS) return `${Math.floor(ms / DAY_MS)} d ${Math.floor((ms % DAY_MS) / HOUR_MS)} h`;
  if (ms >= HOUR_MS) return `${Math.floor(ms / HOUR_MS)} h ${Math.floor((ms % HOUR_MS) / MINUTE_MS)} min`;
  return `${Math.floor(ms / MINUTE_MS)} min`;
}

/** The time of day here, to the minute: `19:34`. @param ms since 1970 */
export function clockTime(ms: number): string {
  const date = new Date(ms);
  return `${two(date.getHours())}:${two(date.getMinutes())}`;
}

/** Date and time here, to the minute: `2026-03-03 19:34`. @param at RFC 3339 */
export function dateAndTime(at: string): string {
  const date = new Date(at);
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())} ${clockTime(date.getTime())}`;
}

function two(part: number): string {
  return String(part).padStart(2, '0');
}
