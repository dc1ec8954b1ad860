const COMMON = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789';
const STANDARD = `${COMMON}+/`;
const URL_SAFE = `${COMMON}-_`;
const NONE = 0xff;
/** Characters that are joined at a time: texts of megabytes would otherwise be built letter by letter. */
const CHUNK = 0x2000;

const STANDARD_VALUES = valuesOf(STANDARD);
const URL_SAFE_VALUES = valuesOf(URL_SAFE);

/** Base 64 with padding (RFC 4648, section 4). */
export function toBase64(bytes: Uint8Array): string {
  return encode(bytes, STANDARD) + '='.repeat((3 - (bytes.length % 3)) % 3);
}

/**
 * The bytes of base 64 with padding (RFC 4648, section 4). Undefined for anything that `toBase64` would not write: other
 * characters, line ends, missing padding, bits set where none belong.
 */
export function fromBase64(text: string): Uint8Array | undefined {
  if (text.length % 4 !== 0) return undefined;
  const padding = text.endsWith('==') ? 2 : text.endsWith('=') ? 1 : 0;
  return decode(text.slice(0, text.length - padding), STANDARD_VALUES);
}

/** Base 64 for addresses, without padding (RFC 4648, section 5, as RFC 7515 wants it). */
export function toBase64Url(bytes: Uint8Array): string {
  return encode(bytes, URL_SAFE);
}

/** The bytes of base 64 for addresses, without padding. Undefined for anything that `toBase64Url` would not write. */
export function fromBase64Url(text: string): Uint8Array | undefined {
  return decode(text, URL_SAFE_VALUES);
}

function encode(bytes: Uint8Array, alphabet: string): string {
  const pieces: string[] = [];
  let piece = '';
  for (let at = 0; at < bytes.length; at += 3) {
    const [a = 0, b = 0, c = 0] = [bytes[at], bytes[at + 1], bytes[at + 2]];
    const word = (a << 16) | (b << 8) | c;
    const letters = Math.min(4, bytes.length - at + 1);
    for (let letter = 0; letter < letters; letter++) piece += alphabet.charAt((word >> (18 - 6 * letter)) & 63);
    if (piece.length >= CHUNK) {
      pieces.push(piece);
      piece = '';
    }
  }
  return pieces.join('') + piece;
}

function decode(text: string, values: Uint8Array): Uint8Array | undefined {
  if (text.length % 4 === 1) return undefined;
  const bytes = new Uint8Array(Math.floor((text.length * 3) / 4));
  let [word, bits, at] = [0, 0, 0];
  for (let letter = 0; letter < text.length; letter++) {
    const value = values[text.charCodeAt(letter)] ?? NONE;
    if (value === NONE) return undefined;
    word = ((word << 6) | value) & 0xffff;
    bits += 6;
    if (bits < 8) continue;
    bits -= 8;
    bytes[at++] = word >> bits;
  }
  return (word & ((1 << bits) - 1)) === 0 ? bytes : undefined;
}

function valuesOf(alphabet: string): Uint8Array {
  const values = new Uint8Array(128).fill(NONE);
  for (let value = 0; value < alphabet.length; value++) values[alphabet.charCodeAt(value)] = value;
  return values;
}
