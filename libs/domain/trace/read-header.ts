/** A column's name with its unit taken off. An unknown unit is left in the name. */
export interface ColumnHead {
  readonly name: string;
  readonly unit?: ColumnUnit;
}

export type ColumnUnit = 'C' | 'F' | 'mV' | 's' | 'ms' | 'min' | 'h' | 'other';

const UNITS = new Map<string, ColumnUnit>(
  Object.entries({
    c: 'C',
    '°c': 'C',
    '℃': 'C',
    degc: 'C',
    'deg c': 'C',
    celsius: 'C',
    f: 'F',
    '°f': 'F',
    '℉': 'F',
    degf: 'F',
    'deg f': 'F',
    fahrenheit: 'F',
    mv: 'mV',
    millivolt: 'mV',
    millivolts: 'mV',
    s: 's',
    sec: 's',
    secs: 's',
    second: 's',
    seconds: 's',
    ms: 'ms',
    msec: 'ms',
    milliseconds: 'ms',
    min: 'min',
    mins: 'min',
    minutes: 'min',
    h: 'h',
    hours: 'h',
  } as const),
);

/** What loggers record beside temperatures. */
const OTHER_UNITS = /^(?:%|% ?rh|rh|m?v|m?a|k?w|m?bar|h?pa|kpa|l\/min|mm(?:\/s)?|rpm|°?c\/s|k\/s)$/;

/** Longer names are cut off, before patterns are tried on them. */
const LONGEST_NAME = 100;

const IN_BRACKETS = /^(.*?)\s*[([{]\s*([^)\]}]*)\s*[)\]}]$/;
const BEHIND = /^(.*?)[\s/_,]+(°\s*[CFcf]|℃|℉|deg\s?[CFcf]|mV|sec|ms)$/;

const TIME_BEHIND = /^(.*time)[\s/_,]+(s|min|h)$/i;

/** A unit by itself, as in a row of units below the header; undefined where the text is none. */
export function readUnit(text: string): ColumnUnit | undefined {
  if (text.length > LONGEST_NAME) return undefined;
  const bare = text
    .replace(/^[([{]\s*|\s*[)\]}]$/g, '')
    .trim()
    .toLowerCase()
    .replace(/^°\s+/, '°');
  return UNITS.get(bare) ?? (OTHER_UNITS.test(bare) ? 'other' : undefined);
}

/**
 * Reads 'TC1 (°C)', 'Joint [C]', 'time/s' or 'Die' into a name and, where one is written, a unit. A bare unit such as
 * 's' or '°C' is no name; a bare letter is: channels are often called A to H.
 */
export function readHeader(header: string): ColumnHead {
  const text = header.slice(0, LONGEST_NAME);
  const alone = readUnit(text);
  if (alone !== undefined && !/^[a-gi-r]$/i.test(text)) return { name: '', unit: alone };
  const match = IN_BRACKETS.exec(text) ?? BEHIND.exec(text) ?? TIME_BEHIND.exec(text);
  const unit = match?.[2] === undefined ? undefined : readUnit(match[2]);
  if (match?.[1] === undefined || unit === undefined) return { name: text };
  return { name: match[1].trim(), unit };
}
