import canonicalize from 'canonicalize';
import { plainCanonical } from './plain-canonical.js';

/**
 * The canonical form of a JSON value by RFC 8785 (keys by UTF-16 code unit, numbers as ECMAScript prints them, no
 * white space). Hash its UTF-8 bytes. Members that are undefined are left out, as JSON does.
 * Throws on what has no canonical form: NaN and infinities, lone surrogates, bigints, cycles, nothing at all, and
 * (RangeError) nesting deeper than the call stack.
 */
export function canonicalJson(value: unknown): string {
  const text = plainCanonical(value) ?? canonicalize(value);
  if (text === undefined) throw new TypeError(`A ${typeof value} has no canonical JSON form.`);
  return text;
}
