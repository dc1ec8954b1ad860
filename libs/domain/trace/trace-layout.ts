import { readCell } from './read-cell.js';
import { ColumnUnit, readHeader, readUnit } from './read-header.js';
import { Delimiter, splitCells } from './split-cells.js';
import { isDate, readTime } from './trace-clock.js';

/** A line of a file and its number, counted from 1. */
export interface TextLine {
  readonly number: number;
  readonly text: string;
}

export interface LayoutColumn {
  /** Index of its cell in a row. */
  readonly cell: number;
  readonly name: string;
  readonly unit?: ColumnUnit;
}

/** Where in a file things stand. */
export interface TraceLayout {
  /** Index, among the lines given, of the first row of readings. */
  readonly firstRow: number;
  readonly timeCell: number;
  /** The cell before the time holds the date. */
  readonly dateBefore: boolean;
  readonly timeUnit?: ColumnUnit;
  readonly columns: readonly LayoutColumn[];
  readonly notes: readonly string[];
}

const LINES_TO_LOOK_AT = 200;
const INDEX_NAME = /^(?:no|nr|#|index|idx|scan|sample|number|record|point|row|n)\.?$/i;
const TIME_NAME = /time|zeit|elapsed|second|clock|^t$/i;

/**
 * Finds header, units and the first row of readings. Lines before the header (a logger's own preamble) are passed over.
 * The time is the first column, unless that one only counts rows or holds the date. Undefined where no row has a time
 * and a reading.
 */
export function findLayout(lines: readonly TextLine[], delimiter: Delimiter): TraceLayout | undefined {
  const head: string[][] = [];
  for (const [index, { text }] of lines.slice(0, LINES_TO_LOOK_AT).entries()) {
    const cells = splitCells(text, delimiter) ?? [];
    const timeCell = timeCellOf(cells, head.at(-1) ?? []);
    if (timeCell !== undefined) return describe(index, timeCell, cells, head);
    head.push(cells);
  }
  return undefined;
}

function timeCellOf(cells: readonly string[], header: readonly string[]): number | undefined {
  const clockCell = cells.slice(0, 3).findIndex((cell) => readTime(cell)?.form === 'clock');
  const countsRows = INDEX_NAME.test(header[0] ?? '') && TIME_NAME.test(header[1] ?? '');
  const timeCell = clockCell >= 0 ? clockCell : countsRows ? 1 : 0;
  const hasTime = readTime(cells[timeCell] ?? '') !== undefined;
  const readings = cells.slice(timeCell + 1);
  return hasTime && readings.some((cell) => isReading(cell)) ? timeCell : undefined;
}

/** Empty cells and words alone may as well be a header; a number or a marker may not. */
function isReading(text: string): boolean {
  const cell = readCell(text);
  return typeof cell === 'number' || (text !== '' && cell !== 'unreadable');
}

function describe(
  firstRow: number,
  timeCell: number,
  cells: readonly string[],
  head: readonly (readonly string[])[],
): TraceLayout {
  const hasUnitRow = (head.at(-2)?.length ?? 0) > 1 && isUnitRow(head.at(-1) ?? []);
  const above = head.at(hasUnitRow ? -2 : -1) ?? [];
  const hasNames = above.length > 1;
  const names = hasNames ? above : [];
  const units = hasUnitRow ? (head.at(-1) ?? []) : [];
  const timeUnit = readUnit(units[timeCell] ?? '') ?? readHeader(names[timeCell] ?? '').unit;
  // A row wider than its header is a fault of that row, for it to report.
  const width = hasNames ? names.length : cells.length;
  const notes: string[] = [];
  if (!hasNames) notes.push('no header names the columns');
  const passed = head.length - (hasUnitRow ? 1 : 0) - (hasNames ? 1 : 0);
  if (passed > 0) notes.push(`${passed} lines before the header were passed over`);
  return {
    firstRow,
    timeCell,
    dateBefore: timeCell > 0 && isDate(cells[timeCell - 1] ?? ''),
    ...(timeUnit !== undefined && { timeUnit }),
    columns: nameColumns(timeCell, width, names, units, notes),
    notes,
  };
}

function isUnitRow(cells: readonly string[]): boolean {
  return cells.some((cell) => cell !== '') && cells.every((cell) => cell === '' || readUnit(cell) !== undefined);
}

function nameColumns(
  timeCell: number,
  width: number,
  names: readonly string[],
  units: readonly string[],
  notes: string[],
): LayoutColumn[] {
  const taken = new Set<string>();
  const columns: LayoutColumn[] = [];
  for (let cell = timeCell + 1; cell < width; cell++) {
    const head = readHeader(names[cell] ?? '');
    const unit = readUnit(units[cell] ?? '') ?? head.unit;
    const wanted = head.name === '' ? `channel ${cell - timeCell}` : head.name;
    let name = wanted;
    for (let count = 2; taken.has(name); count++) name = `${wanted} (${count})`;
    if (name !== wanted) notes.push(`two columns are called ${wanted}; the later one is called ${name} here`);
    taken.add(name);
    columns.push({ cell, name, ...(unit !== undefined && { unit }) });
  }
  return columns;
}
