const START_MS = Date.parse('2026-03-02T12:00:00+01:00');
const OFFSET_MS = 3_600_000;

/** RFC 3339 text, offset +01:00, of a minute of the shift; minute 0 is noon of 2 March 2026. */
export function shiftTime(minute: number): string {
  const local = new Date(START_MS + OFFSET_MS + minute * 60_000).toISOString().slice(0, 19);
  return `${local}+01:00`;
}

/** Minute of the shift at a clock time of its second day, 3 March 2026. */
export function onSecondDay(hours: number, minutes = 0): number {
  return (12 + hours) * 60 + minutes;
}
