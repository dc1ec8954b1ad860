/** What is different in each copy of a line. */
export interface Copy {
  /** Of no other copy in this book. */
  readonly number: number;
  /** How long before the original it happened. */
  readonly daysBack: number;
}

/** A line of COPY with holes: a number stands for one, `NAME`, `TAIL`, or a day since 1970. */
export type LineTemplate = readonly (string | number)[];

const NAME = -1;
const TAIL = -2;
const DAY = /\d{4}-\d\d-\d\d(?=[T ])/g;
const UUID_HEAD = '[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-';
const DAY_MS = 86_400_000;

/** Texts of days, which come by the ten million and are some thousands. */
const dayTexts = new Map<number, string>();

/**
 * Cuts a line where copies differ: at the mark in names, the last part of UUIDs, and days. Hashes stay as they are, so that
 * chains of copies hang together but do not verify.
 */
export function lineTemplate(line: string, mark: string): LineTemplate {
  const hole = new RegExp(`(${mark})|(?<=${UUID_HEAD})([0-9a-f]{12})|(${DAY.source})`, 'g');
  const parts: (string | number)[] = [];
  let end = 0;
  for (const found of line.matchAll(hole)) {
    const [text, name, tail] = found;
    parts.push(line.slice(end, found.index), name !== undefined ? NAME : tail !== undefined ? TAIL : dayOf(text));
    end = found.index + text.length;
  }
  return [...parts, line.slice(end)];
}

export function filled(template: LineTemplate, { number, daysBack }: Copy): string {
  const name = copyName(number);
  const tail = number.toString(16).padStart(12, '0');
  let line = '';
  for (const part of template) {
    if (typeof part === 'string') line += part;
    else if (part === NAME) line += name;
    else line += part === TAIL ? tail : dayText(part - daysBack);
  }
  return line;
}

/** What stands for the mark. Names come in no order, as serial numbers of many customers do. */
export function copyName(number: number): string {
  // Odd, and so different for different numbers.
  return (Math.imul(number, 0x9e3779b1) >>> 0).toString(36).padStart(7, '0');
}

/** The text with every time in it moved by so many days. */
export function movedDays(text: string, days: number): string {
  return text.replace(DAY, (day) => dayText(dayOf(day) + days));
}

function dayOf(text: string): number {
  return Date.parse(text) / DAY_MS;
}

function dayText(day: number): string {
  const known = dayTexts.get(day);
  if (known !== undefined) return known;
  const text = new Date(day * DAY_MS).toISOString().slice(0, 10);
  dayTexts.set(day, text);
  return text;
}
