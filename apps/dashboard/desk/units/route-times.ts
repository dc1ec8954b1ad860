/** Day and clock here, for the head of a step: `03-03`, `08:04`. @param ms since 1970 */
export function dayOf(ms: number): string {
  const date = new Date(ms);
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}

export function clockOf(ms: number): string {
  const date = new Date(ms);
  return `${two(date.getHours())}:${two(date.getMinutes())}`;
}

function two(part: number): string {
  return String(part).padStart(2, '0');
}
