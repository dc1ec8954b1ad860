import { canonicalJson } from '../canonical-json.js';

/** The canonical text of each member of an object, in canonical order: joined, they are that of the object. */
export type CanonicalMembers = readonly (readonly [name: string, text: string])[];

/**
 * Writes each member once, so that the text of the object and that of the object without one of them cost no more than
 * either.
 * @param known texts of members that are worked out already
 * @throws as `canonicalJson` does
 */
export function canonicalMembers(
  value: Readonly<Record<string, unknown>>,
  known: Readonly<Record<string, string>> = {},
): CanonicalMembers {
  // Without a comparison of its own, sort() orders by UTF-16 code units, as RFC 8785, section 3.2.3, wants it.
  return Object.keys(value)
    .sort()
    .map((name) => {
      const text = Object.hasOwn(known, name) ? known[name] : canonicalJson(value[name]);
      return [name, `${canonicalJson(name)}:${text ?? ''}`];
    });
}

/** The canonical text of the object without some of its members. */
export function objectText(members: CanonicalMembers, without: readonly string[] = []): string {
  const texts: string[] = [];
  for (const [name, text] of members) if (!without.includes(name)) texts.push(text);
  // Joined at once: a text that is added to piece by piece keeps every piece in memory.
  return `{${texts.join(',')}}`;
}
