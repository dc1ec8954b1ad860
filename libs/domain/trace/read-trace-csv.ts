import { orderTimes } from './order-times.js';
import { RawColumn } from './raw-column.js';
import { readRows } from './read-rows.js';
import { detectDelimiter } from './split-cells.js';
import { at, markAt, READ, rowAt, Trace, TraceChannel } from './trace.js';
import { findLayout, TextLine } from './trace-layout.js';
import { TraceProblem } from './trace-problem.js';

/** Most that one trace may hold. */
export const MOST_ROWS = 200_000;
export const MOST_CHANNELS = 64;

export type TraceReading =
  { readonly ok: true; readonly trace: Trace } | { readonly ok: false; readonly problems: readonly TraceProblem[] };

export interface CsvAssumptions {
  /** Unit of the columns whose header names none; C where left out. A header's own unit always wins. */
  readonly unit?: 'C' | 'mV';
}

/**
 * Reads a trace from the text of a CSV file: a column of time, then a column for each thermocouple, with a header.
 *
 * Understood: comma, semicolon or tab; decimal commas where the delimiter is no comma (or the cell is quoted); units in the header or a
 * row below it (Fahrenheit is converted to C, mV is kept as mV); seconds, milliseconds, minutes or times of day that pass
 * midnight; a byte order mark, CRLF, blank lines, # comments; a preamble before the header; empty cells; words for an open
 * circuit. Times of day come out as seconds since the first row, plain times as they stand. What was set right is said
 * in the notes; what cannot be read is a problem with its line.
 */
export function readTraceCsv(text: string, assumptions: CsvAssumptions = {}): TraceReading {
  const lines = contentLines(text);
  if (lines.length === 0) return failed({ code: 'empty', detail: 'the file is empty', remedy: 'send the log itself' });
  const delimiter = detectDelimiter(lines.map((line) => line.text));
  const layout = findLayout(lines, delimiter);
  if (layout === undefined) return failed(NO_READINGS);
  const rowLines = lines.slice(layout.firstRow);
  if (rowLines.length > MOST_ROWS) return failed(tooMany('too-many-rows', rowLines.length, 'rows', MOST_ROWS));
  const { length: channels } = layout.columns;
  if (channels > MOST_CHANNELS) return failed(tooMany('too-many-channels', channels, 'channels', MOST_CHANNELS));
  const rows = readRows(rowLines, delimiter, layout);
  if (rows.problems.length > 0) return { ok: false, problems: rows.problems };
  if (rows.times.length === 0 || rows.columns.length === 0) return failed(NO_READINGS);
  const ordered = orderTimes(rows.times);
  if (!('seconds' in ordered)) {
    const line = rowAt(rows.lineNumbers, ordered.row);
    return failed({ code: 'bad-time', line, detail: ordered.detail, remedy: 'send each run as a trace of its own' });
  }
  const notes = [...layout.notes, ...rows.notes, ...ordered.notes];
  const channelList = rows.columns.map((column) => toChannel(column, ordered.rows, assumptions.unit ?? 'C', notes));
  const seconds = fromFirst(ordered.seconds, rows.clock, notes);
  return { ok: true, trace: { seconds, channels: channelList, notes } };
}

const NO_READINGS: TraceProblem = {
  code: 'no-readings',
  detail: 'no row has a time in its first column and a reading behind it',
  remedy: 'send rows of seconds (or a time of day) and one column for each thermocouple, below a header',
};

function failed(problem: TraceProblem): TraceReading {
  return { ok: false, problems: [problem] };
}

function tooMany(code: TraceProblem['code'], found: number, what: string, most: number): TraceProblem {
  return {
    code,
    detail: `${found} ${what}, at most ${most} are taken`,
    remedy: `send fewer ${what}, or several traces`,
  };
}

function contentLines(text: string): TextLine[] {
  const lines: TextLine[] = [];
  for (const [index, line] of text
    .replace(/^\uFEFF/, '')
    .split(/\r\n|\n|\r/)
    .entries()) {
    if (/^[\s,;]*$|^\s*#|^sep=.$/i.test(line)) continue;
    lines.push({ number: index + 1, text: line });
  }
  return lines;
}

function toChannel(column: RawColumn, rows: Int32Array, unit: 'C' | 'mV', notes: string[]): TraceChannel {
  const { name, unit: written } = column;
  const inFahrenheit = written === 'F';
  if (inFahrenheit) notes.push(`${name} is in Fahrenheit; converted to C`);
  const values = new Float64Array(rows.length);
  const marks = new Uint8Array(rows.length);
  for (let index = 0; index < rows.length; index++) {
    const row = rowAt(rows, index);
    const mark = markAt(column.marks, row);
    const value = at(column.values, row);
    marks[index] = mark;
    values[index] = inFahrenheit && mark === READ ? ((value - 32) * 5) / 9 : value;
  }
  const own = written === 'mV' || written === 'C' ? written : undefined;
  return { name, unit: inFahrenheit ? 'C' : (own ?? unit), values, marks };
}

/** Beyond this a plain count of seconds is one since some epoch, not since the start of the log. */
const EPOCH_S = 1e6;

function fromFirst(seconds: Float64Array, clock: boolean, notes: string[]): Float64Array {
  const first = at(seconds, 0);
  if (!clock && Math.abs(first) < EPOCH_S) return seconds;
  if (!clock) notes.push('times are counted from the first row');
  return seconds.map((time) => time - first);
}
