const DIGITS = Array.from({ length: 256 }, (_, byte) => byte.toString(16).padStart(2, '0'));
const FIGURES = '0123456789abcdef';
/** What no digit of lower-case hex stands for. */
const NO_DIGIT = 16;
/** By character code, as far as one is a digit. */
const VALUES = Array.from({ length: 128 }, (_, code) => {
  const value = FIGURES.indexOf(String.fromCharCode(code));
  return value < 0 ? NO_DIGIT : value;
});

/** Lower-case hex. */
export function toHex(bytes: Uint8Array): string {
  let text = '';
  for (const byte of bytes) text += DIGITS[byte] ?? '';
  return text;
}

/** The bytes of lower-case hex; undefined for anything else, and for another number of bytes than `length`. */
export function fromHex(text: string, length?: number): Uint8Array | undefined {
  if (text.length % 2 === 1) return undefined;
  if (length !== undefined && text.length !== 2 * length) return undefined;
  const bytes = new Uint8Array(text.length / 2);
  for (let at = 0; at < bytes.length; at += 1) {
    const high = VALUES[text.charCodeAt(2 * at)] ?? NO_DIGIT;
    const low = VALUES[text.charCodeAt(2 * at + 1)] ?? NO_DIGIT;
    if (high === NO_DIGIT || low === NO_DIGIT) return undefined;
    bytes[at] = 16 * high + low;
  }
  return bytes;
}
