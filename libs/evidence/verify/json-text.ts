/** Something in a JSON text that two readers could take differently. */
export interface JsonTextIssue {
  kind: 'duplicate-key' | 'unsafe-number';
  /** Keys and array indexes from the root to the member or number. */
  path: (string | number)[];
  /** The key, or the number as written. */
  token: string;
}

interface Container {
  /** Keys seen so far; null in an array. */
  keys: Set<string> | null;
  /** Key or index of the value that is being read. */
  at: string | number;
  atKey: boolean;
}

const NUMBER = /-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
/** A binary64 number carries any decimal of up to 15 significant digits, and prints with at most 17 (IEEE 754-2019). */
const EXACT_DIGITS = 15;
const PRINTED_DIGITS = 17;

/**
 * Finds what JSON.parse passes over in silence: a key given twice in one object (it keeps the last, another reader may
 * show the first) and numbers that a binary64 reader changes. The text must be valid JSON.
 */
export function findJsonTextIssues(text: string): JsonTextIssue[] {
  const issues: JsonTextIssue[] = [];
  const stack: Container[] = [];
  const report = (kind: JsonTextIssue['kind'], token: string) =>
    issues.push({ kind, path: stack.map((container) => container.at), token });
  let position = 0;
  while (position < text.length) {
    const top = stack.at(-1);
    const char = text.charAt(position);
    let end = position + 1;
    if (char === '{') stack.push({ keys: new Set(), at: '', atKey: true });
    else if (char === '[') stack.push({ keys: null, at: 0, atKey: false });
    else if (char === '}' || char === ']') stack.pop();
    else if (char === ',' && top !== undefined) {
      if (typeof top.at === 'number') top.at += 1;
      else top.atKey = true;
    } else if (char === '"') {
      end = endOfString(text, position);
      if (top?.keys && top.atKey) {
        top.at = decodeString(text.slice(position, end));
        top.atKey = false;
        if (top.keys.has(top.at)) report('duplicate-key', top.at);
        top.keys.add(top.at);
      }
    } else if (char === '-' || (char >= '0' && char <= '9')) {
      NUMBER.lastIndex = position;
      const literal = NUMBER.exec(text)?.[0] ?? char;
      end = position + literal.length;
      if (!readsExactly(literal)) report('unsafe-number', literal);
    }
    position = end;
  }
  return issues;
}

/** True when a text that is no valid JSON stops inside a string, an object or an array, as a cut file does. */
export function endsEarly(text: string): boolean {
  let depth = 0;
  let position = 0;
  while (position < text.length) {
    const char = text.charAt(position);
    if (char === '"') {
      position = endOfString(text, position);
      if (position > text.length) return true;
      continue;
    }
    if (char === '{' || char === '[') depth += 1;
    if (char === '}' || char === ']') depth -= 1;
    position += 1;
  }
  return depth > 0 || text.trim() === '';
}

/** Index after the closing quote of the string that opens at `start`; beyond the text when it is never closed. */
function endOfString(text: string, start: number): number {
  let position = start + 1;
  while (position < text.length && text.charAt(position) !== '"') position += text.charAt(position) === '\\' ? 2 : 1;
  return position + 1;
}

function decodeString(quoted: string): string {
  return quoted.includes('\\') ? String(JSON.parse(quoted)) : quoted.slice(1, -1);
}

/** Whether the number means the same to a reader of binary64 and to one of exact decimals. */
function readsExactly(literal: string): boolean {
  if (literal.length <= EXACT_DIGITS && !/[eE]/.test(literal)) return true;
  const value = Number(literal);
  if (!Number.isFinite(value)) return false;
  const digits = decimal(literal);
  if (value === 0) return digits === '0';
  const significant = digits.replace(/e.*/, '').replace('-', '').length;
  if (significant <= PRINTED_DIGITS && Math.abs(value) <= Number.MAX_SAFE_INTEGER) return true;
  return digits === decimal(String(value));
}

/** A decimal literal as sign, digits without zeros at either end, and power of ten: '12.50' -> '125e-1'. */
function decimal(literal: string): string {
  const [mantissa = '', exponent = '0'] = literal.toLowerCase().split('e');
  const [whole = '', fraction = ''] = mantissa.replace('-', '').split('.');
  const digits = (whole + fraction).replace(/^0+/, '');
  const short = digits.replace(/0+$/, '');
  if (short === '') return '0';
  const power = Number(exponent) - fraction.length + digits.length - short.length;
  return `${literal.startsWith('-') ? '-' : ''}${short}e${power}`;
}
