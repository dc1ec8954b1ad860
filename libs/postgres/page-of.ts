import { Page } from '../ledger/ports/read-store.js';
import { toCursor } from './cursor.js';

/** One row more than asked for was read, to know whether there is a next page. */
export function pageOf<R, T>(
  rows: readonly R[],
  limit: number,
  place: (row: R) => string[],
  to: (row: R) => T,
): Page<T> {
  const shown = rows.slice(0, limit);
  const last = shown.at(-1);
  return { items: shown.map(to), next: rows.length > limit && last !== undefined ? toCursor(place(last)) : null };
}
