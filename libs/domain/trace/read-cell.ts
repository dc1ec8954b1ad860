/** What one cell says: a number, nothing, an open circuit, or something that is neither. */
export type Cell = number | 'missing' | 'open' | 'unreadable';

/** No figure, word or time is longer; the patterns below need not be safe against a megabyte of blanks. */
export const LONGEST_CELL = 64;

const PLAIN = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;
const DECIMAL_COMMA = /^[+-]?\d*,\d+(?:[eE][+-]?\d+)?$/;
const COMMA_THOUSANDS = /^[+-]?\d{1,3}(?:,\d{3})+\.\d+$/;
const POINT_THOUSANDS = /^[+-]?\d{1,3}(?:\.\d{3})+,\d+$/;
const UNIT_BEHIND = /\s*(?:°\s*[CF]|deg\s*[CF]|[CF]|mV|s)$/i;

/** Loggers write these where the circuit is broken or the input overflows. */
const OPEN_WORDS = new Set(
  'open|open tc|opentc|open circuit|open-circuit|o.c.|oc|ol|+ol|-ol|o.l.|over|+over|-over|overload|overrange|ovld|ovr|burnout|b.out|inf|+inf|-inf|infinity|-infinity'.split(
    '|',
  ),
);
const MISSING_WORDS = new Set([
  'nan',
  '-nan',
  'n/a',
  'na',
  '#n/a',
  'null',
  'none',
  'err',
  'error',
  'invalid',
  '?',
  '#',
]);
const DASHES = /^[-–—_*.]+$/;

/**
 * Reads a cell as a number. Decimal points and commas are both understood (a comma that is no delimiter can only be
 * a decimal sign, or a thousands mark where a point follows), and so is a unit written behind the figure.
 */
export function readCell(text: string): Cell {
  if (text === '') return 'missing';
  if (text.length > LONGEST_CELL) return 'unreadable';
  if (PLAIN.test(text)) return finite(Number(text));
  const word = text.toLowerCase();
  if (OPEN_WORDS.has(word)) return 'open';
  if (MISSING_WORDS.has(word) || DASHES.test(text)) return 'missing';
  if (DECIMAL_COMMA.test(text)) return finite(Number(text.replace(',', '.')));
  if (COMMA_THOUSANDS.test(text)) return finite(Number(text.replaceAll(',', '')));
  if (POINT_THOUSANDS.test(text)) return finite(Number(text.replaceAll('.', '').replace(',', '.')));
  const bare = text.replace(UNIT_BEHIND, '');
  return bare === text ? 'unreadable' : readCell(bare);
}

/** A figure such as 1e999 overflows: no thermocouple meant it. */
function finite(value: number): Cell {
  return Number.isFinite(value) ? value : 'open';
}
