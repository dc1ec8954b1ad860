import { paths } from '../paths.js';

/** The hold desk, narrowed down to what came to light at a station. */
export function holdsAt(station: string): string {
  return `${paths.holds}?${new URLSearchParams({ station }).toString()}`;
}
