import { pointerToken } from './json-pointer.js';
import { Fault } from './problems.js';

/** Under the u flag a pair is one character of another category, so this finds halves only. */
const LONE_SURROGATE = /\p{Cs}/u;
const EACH_LONE_SURROGATE = /\p{Cs}/gu;

/**
 * Finds text that JSON can carry and the book cannot: NUL, which Postgres does not store, and half of a surrogate pair,
 * which has no canonical form (RFC 8785). `value` is parsed JSON of bounded depth. Stops after `most`.
 */
export function findUnfitText(value: unknown, most: number): Fault[] {
  // Hardly any event has such text, and looking without keeping the way there is several times faster.
  return hasUnfitText(value) ? locate(value, most, '') : [];
}

/** Text as near to it as can be kept: U+FFFD stands for each character that cannot. */
export function fitText(text: string): string {
  return text.replaceAll('\0', '\ufffd').replace(EACH_LONE_SURROGATE, '\ufffd');
}

function hasUnfitText(value: unknown): boolean {
  if (typeof value === 'string') return isUnfit(value);
  if (typeof value !== 'object' || value === null) return false;
  if (Array.isArray(value)) return value.some(hasUnfitText);
  return Object.values(value).some(hasUnfitText);
}

function locate(value: unknown, most: number, pointer: string): Fault[] {
  if (typeof value === 'string') return isUnfit(value) ? [{ pointer, detail: detailOf(value) }] : [];
  if (typeof value !== 'object' || value === null) return [];
  const faults: Fault[] = [];
  for (const [key, member] of Array.isArray(value) ? value.entries() : Object.entries(value)) {
    if (faults.length >= most) break;
    faults.push(...locate(member, most - faults.length, pointer + pointerToken(key)));
  }
  return faults;
}

function isUnfit(text: string): boolean {
  return text.includes('\0') || LONE_SURROGATE.test(text);
}

function detailOf(text: string): string {
  return text.includes('\0')
    ? 'The text has a NUL character (\\u0000) in it; leave it out.'
    : 'The text has half of a surrogate pair in it, which is no character; leave it out.';
}
