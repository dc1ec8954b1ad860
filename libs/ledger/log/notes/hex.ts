const DIGITS = Array.from({ length: 256 }, (_, byte) => byte.toString(16).padStart(2, '0'));
const PAIRS = /^(?:[0-9a-f]{2})*$/;

/** Lower-case hex. */
export function toHex(bytes: Uint8Array): string {
  let text = '';
  for (const byte of bytes) text += DIGITS[byte] ?? '';
  return text;
}

/** The bytes of lower-case hex; undefined for anything else, and for another number of bytes than `length`. */
export function fromHex(text: string, length?: number): Uint8Array | undefined {
  if (text.length % 2 === 1 || !PAIRS.test(text)) return undefined;
  if (length !== undefined && text.length !== 2 * length) return undefined;
  return Uint8Array.from({ length: text.length / 2 }, (_, at) => parseInt(text.slice(2 * at, 2 * at + 2), 16));
}
