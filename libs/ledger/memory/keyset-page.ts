import { compareText } from '../../domain/events/event-order.js';
import { Page, PageRequest } from '../ports/read-store.js';

/**
 * The rows after the cursor, in order of their place. A place is the texts that a row is sorted by and must be its own:
 * the cursor then holds its ground whatever is added before it or behind.
 * @throws RangeError where the cursor is not one that a list gave.
 */
export function keysetPage<T>(
  rows: readonly T[],
  placeOf: (row: T) => readonly string[],
  { limit, cursor }: PageRequest,
): Page<T> {
  const after = cursor === null ? null : readCursor(cursor);
  const rest = rows
    .map((row) => ({ row, place: placeOf(row) }))
    .filter(({ place }) => after === null || comparePlaces(place, sameOrder(after, place)) > 0)
    .sort((a, b) => comparePlaces(a.place, b.place));
  const page = rest.slice(0, limit);
  const last = page.at(-1);
  return {
    items: page.map(({ row }) => row),
    next: last === undefined || rest.length === page.length ? null : JSON.stringify(last.place),
  };
}

/** A text that sorts before another where that one's own sorts after. ASCII only. */
export function inverted(text: string): string {
  return Array.from(text, (letter) => String.fromCharCode(127 - letter.charCodeAt(0))).join('');
}

function comparePlaces(a: readonly string[], b: readonly string[]): number {
  return a.reduce((found, text, index) => found || compareText(text, b[index] ?? ''), 0);
}

function sameOrder(after: readonly string[], place: readonly string[]): readonly string[] {
  if (after.length === place.length) return after;
  throw new RangeError('The cursor is not one that this list gave.');
}

function readCursor(cursor: string): readonly string[] {
  try {
    const place: unknown = JSON.parse(cursor);
    if (Array.isArray(place) && place.every((text) => typeof text === 'string')) return place;
  } catch {
    // Said below, together with every other text that is no cursor.
  }
  throw new RangeError('The cursor is not one that this list gave.');
}
