import { Place } from './located-file.js';

/** The steps of a JSON Pointer (RFC 6901). */
export function placeOf(pointer: string): Place {
  if (pointer === '') return [];
  return pointer
    .slice(1)
    .split('/')
    .map((token) => token.replaceAll('~1', '/').replaceAll('~0', '~'));
}
