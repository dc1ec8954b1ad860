/** UTF-16 code units that give a JSON text its structure. */
export const QUOTE = 0x22;
export const COMMA = 0x2c;
export const MINUS = 0x2d;
export const ZERO = 0x30;
export const NINE = 0x39;
export const COLON = 0x3a;
export const OPEN_LIST = 0x5b;
const BACKSLASH = 0x5c;
export const CLOSE_LIST = 0x5d;
export const OPEN_OBJECT = 0x7b;
export const CLOSE_OBJECT = 0x7d;

/** Index after the closing quote of the string that opens at `start`; the length of the text, or more, where it is not closed. */
export function endOfString(text: string, start: number): number {
  let at = start + 1;
  for (; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (code === QUOTE) return at + 1;
    if (code === BACKSLASH) at += 1;
  }
  return at;
}

/** White space as JSON has it. */
export function isBlank(code: number): boolean {
  return code === 0x20 || code === 0x0a || code === 0x0d || code === 0x09;
}
