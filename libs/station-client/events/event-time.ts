const TIME =
  /^(\d{4})-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])[Tt](?:[01]\d|2[0-3]):[0-5]\d:[0-5]\d(?:\.\d+)?(?:[Zz]|[+-](?:[01]\d|2[0-3]):[0-5]\d)$/;

/** Whether a text is a time of RFC 3339 with offset that stands in the calendar, no leap second, in the years 1 to 9999. */
export function isEventTime(text: string): boolean {
  const [, year, month, day] = TIME.exec(text) ?? [];
  if (year === undefined || Number(year) === 0) return false;
  // A day that the month does not have would come back as one of the next.
  const date = new Date(`${year}-${String(month)}-${String(day)}T00:00:00Z`);
  return date.getUTCDate() === Number(day);
}
