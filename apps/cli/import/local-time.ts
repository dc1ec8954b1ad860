/** A time as a log writes it, read; or what is wrong with it. */
export type TimeReading = { readonly time: string; readonly note?: string } | { readonly fault: string };

/** How a log writes its times: compiled from `dd.MM.yyyy HH:mm` and the like, `iso` or `excel`. */
export interface TimeFormat {
  readonly text: string;
  readonly read: (text: string) => LocalTime | undefined;
}

/** A moment of a calendar and clock, not yet of a place; ms as if it were UTC. */
interface LocalTime {
  readonly ms: number;
  /** Minutes east, where the text says so. */
  readonly offsetMinutes?: number;
}

const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;
/** Day 0 of the serial numbers of spreadsheets, as all of them count from March 1900 on. */
const EXCEL_EPOCH_MS = Date.UTC(1899, 11, 30);

/** Each token with what it matches and the part of a date that it stands for. */
const TOKENS: readonly (readonly [string, string, string])[] = [
  ['yyyy', String.raw`(\d{4})`, 'year'],
  ['yy', String.raw`(\d{2})`, 'shortYear'],
  ['MM', String.raw`(\d{2})`, 'month'],
  ['M', String.raw`(\d{1,2})`, 'month'],
  ['dd', String.raw`(\d{2})`, 'day'],
  ['d', String.raw`(\d{1,2})`, 'day'],
  ['HH', String.raw`(\d{2})`, 'hour'],
  ['H', String.raw`(\d{1,2})`, 'hour'],
  ['hh', String.raw`(\d{2})`, 'hour12'],
  ['h', String.raw`(\d{1,2})`, 'hour12'],
  ['mm', String.raw`(\d{2})`, 'minute'],
  ['ss', String.raw`(\d{2})`, 'second'],
  ['SSS', String.raw`(\d{3})`, 'milli'],
  ['XXX', String.raw`(Z|[+-]\d{2}:\d{2})`, 'offset'],
  ['a', '([AaPp][Mm])', 'half'],
];

/**
 * Compiles a format.
 * @throws RangeError that says what a format is made of, where it lacks a day or has a letter that stands for nothing
 */
export function timeFormat(text: string): TimeFormat {
  if (text === 'iso') return { text, read: readIso };
  if (text === 'excel') return { text, read: readExcel };
  const parts: string[] = [];
  let pattern = '';
  for (let rest = text; rest !== '';) {
    const token = TOKENS.find(([word]) => rest.startsWith(word));
    const letter = rest.charAt(0);
    if (token === undefined && /[A-Za-z]/.test(letter) && letter !== 'T') {
      throw new RangeError(`"${letter}" stands for nothing in a time: use ${TOKENS.map(([word]) => word).join(' ')}`);
    }
    pattern += token?.[1] ?? (letter === ' ' ? String.raw`\s+` : letter.replace(/[^\w]/, String.raw`\$&`));
    if (token !== undefined) parts.push(token[2]);
    rest = rest.slice(token?.[0].length ?? 1);
  }
  const isDay = parts.includes('day') && parts.includes('month') && /[yY]ear/.test(parts.join());
  if (!isDay || parts.includes('hour12') !== parts.includes('half')) {
    throw new RangeError(
      'a time needs year, month and day (and with hh an a), such as dd.MM.yyyy HH:mm; or iso, or excel',
    );
  }
  const whole = new RegExp(`^${pattern}$`);
  return { text, read: (given) => readParts(whole.exec(given), parts) };
}

function readParts(found: RegExpExecArray | null, parts: readonly string[]): LocalTime | undefined {
  if (found === null) return undefined;
  const part = new Map(parts.map((name, place) => [name, found[place + 1] ?? '']));
  const figure = (name: string): number => Number(part.get(name) ?? 0);
  const year = part.has('year') ? figure('year') : 2000 + figure('shortYear');
  const half = part.get('half')?.toLowerCase();
  const hour12 = figure('hour12');
  if (half !== undefined && (hour12 < 1 || hour12 > 12)) return undefined;
  const hour = half === undefined ? figure('hour') : (hour12 % 12) + (half === 'pm' ? 12 : 0);
  const clock = [hour, figure('minute'), figure('second'), figure('milli')] as const;
  if (hour > 23 || clock[1] > 59 || clock[2] > 59) return undefined;
  const ms = Date.UTC(year, figure('month') - 1, figure('day'), ...clock);
  // Date would carry 31 April over into May.
  if (new Date(ms).getUTCMonth() !== figure('month') - 1) return undefined;
  const offset = part.get('offset');
  return { ms, ...(offset !== undefined && { offsetMinutes: offsetIn(offset) }) };
}

function offsetIn(text: string): number {
  if (text === 'Z') return 0;
  const minutes = 60 * Number(text.slice(1, 3)) + Number(text.slice(4));
  return text.startsWith('-') ? -minutes : minutes;
}

const ISO_FORMATS = ['yyyy-MM-dd', 'yyyy-MM-ddTHH:mm', 'yyyy-MM-ddTHH:mm:ss', 'yyyy-MM-ddTHH:mm:ss.SSS'];
const ISO = [...ISO_FORMATS, ...ISO_FORMATS.slice(1).map((text) => `${text}XXX`)].map((text) => timeFormat(text));

function readIso(text: string): LocalTime | undefined {
  const withT = text.replace(/^(\d{4}-\d{2}-\d{2}) +/, '$1T');
  for (const { read } of ISO) {
    const found = read(withT);
    if (found !== undefined) return found;
  }
  return undefined;
}

function readExcel(text: string): LocalTime | undefined {
  const days = text === '' ? NaN : Number(text.replace(',', '.'));
  // From March 1900, before which spreadsheets do not agree, to the year 9999.
  if (!(days >= 61 && days < 2_958_466)) return undefined;
  return { ms: EXCEL_EPOCH_MS + Math.round((days * DAY_MS) / 1000) * 1000 };
}

/** Whether this machine knows a time zone of that name. */
export function isTimeZone(name: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: name }).format(0) !== '';
  } catch {
    return false;
  }
}

const clocks = new Map<string, Intl.DateTimeFormat>();

/** Minutes that clocks in a zone are ahead of UTC at an instant. */
function offsetAt(ms: number, timeZone: string): number {
  let clock = clocks.get(timeZone);
  if (clock === undefined) {
    clock = new Intl.DateTimeFormat('en', { timeZone, timeZoneName: 'longOffset' });
    clocks.set(timeZone, clock);
  }
  const name = clock.formatToParts(ms).find(({ type }) => type === 'timeZoneName')?.value ?? 'GMT';
  return name === 'GMT' ? 0 : offsetIn(name.slice(3, 9));
}

/**
 * Reads a time of a log and says it with offset (RFC 3339), by the clocks of a zone.
 * @param tie milliseconds that are added, to keep apart what the log writes at the same time
 */
export function readLocalTime(text: string, format: TimeFormat, timeZone: string, tie = 0): TimeReading {
  const found = format.read(text.trim());
  if (found === undefined) return { fault: `"${text}" is no time of the form ${format.text}` };
  const { ms, offsetMinutes } = found;
  if (offsetMinutes !== undefined) return { time: withOffset(ms + tie, offsetMinutes) };
  const around = [offsetAt(ms - DAY_MS, timeZone), offsetAt(ms + DAY_MS, timeZone)];
  const fitting = [...new Set(around)].filter((minutes) => offsetAt(ms - minutes * MINUTE_MS, timeZone) === minutes);
  const [first] = fitting.sort((a, b) => b - a);
  if (first === undefined)
    return { fault: `"${text}" is not on the clocks of ${timeZone}: they were put forward then` };
  const note = `"${text}" is on the clocks of ${timeZone} twice: the first is taken`;
  return { time: withOffset(ms + tie, first), ...(fitting.length > 1 && { note }) };
}

function withOffset(ms: number, minutes: number): string {
  const local = new Date(ms)
    .toISOString()
    .slice(0, -1)
    .replace(/\.000$/, '');
  const size = Math.abs(minutes);
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${local}${minutes < 0 ? '-' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}
