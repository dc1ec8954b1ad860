import { COLON, endOfString, QUOTE } from './json-marks.js';

/**
 * Whether the text of a value can be read in one way only, as far as a quick look tells: where this says so,
 * `findJsonFaults` finds nothing. It counts the members in the text and in the value, and these are the same in number
 * only where no key was given twice. It costs a third of looking for faults, and hardly any text has one.
 *
 * @param value what JSON.parse made of the text
 * @param mostNested how deep objects and lists may be nested in it
 */
export function isPlainJson(text: string, value: unknown, mostNested: number): boolean {
  return membersIn(value, mostNested) === colonsIn(text);
}

/** Colons outside of strings: one a member. */
function colonsIn(text: string): number {
  let count = 0;
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (code === QUOTE) at = endOfString(text, at) - 1;
    else if (code === COLON) count += 1;
  }
  return count;
}

/** Members of all objects in a value; NaN where it is nested too deep or has a number beyond 2^53 - 1. */
function membersIn(value: unknown, mostNested: number): number {
  if (typeof value === 'number') return Math.abs(value) <= Number.MAX_SAFE_INTEGER ? 0 : NaN;
  if (typeof value !== 'object' || value === null) return 0;
  if (mostNested === 0) return NaN;
  if (Array.isArray(value)) {
    let count = 0;
    for (const item of value) count += membersIn(item, mostNested - 1);
    return count;
  }
  const members: unknown[] = Object.values(value);
  let count = members.length;
  for (const member of members) count += membersIn(member, mostNested - 1);
  return count;
}
