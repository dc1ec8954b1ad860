import { readCell } from './read-cell.js';
import { ColumnUnit } from './read-header.js';
import { MISSING, OPEN, READ } from './trace.js';
import { LayoutColumn } from './trace-layout.js';
import { MOST_PROBLEMS, TraceProblem } from './trace-problem.js';

/** Seconds in each unit of time. */
export const SECONDS_IN: Readonly<Partial<Record<ColumnUnit, number>>> = { s: 1, ms: 0.001, min: 60, h: 3600 };

/** A column as it stands in the file, rows in the order of the file. */
export interface RawColumn {
  readonly name: string;
  readonly unit?: ColumnUnit;
  readonly values: Float64Array;
  readonly marks: Uint8Array;
}

/** A column while it is being read. */
export interface Column extends RawColumn {
  readonly cell: number;
  readings: number;
  opens: number;
  readonly unreadable: TraceProblem[];
}

export function blankColumn(column: LayoutColumn, most: number): Column {
  const blank = { values: new Float64Array(most), marks: new Uint8Array(most), readings: 0, opens: 0, unreadable: [] };
  return { ...column, ...blank };
}

/** Reads one cell into its column; text that is neither a number nor a known word is kept as a problem. */
export function takeCell(column: Column, row: number, line: number, text: string): void {
  const cell = readCell(text);
  if (typeof cell === 'number') {
    column.values[row] = cell;
    column.marks[row] = READ;
    column.readings++;
    return;
  }
  column.marks[row] = cell === 'open' ? OPEN : MISSING;
  if (cell === 'open') column.opens++;
  if (cell !== 'unreadable' || column.unreadable.length >= MOST_PROBLEMS) return;
  column.unreadable.push({
    code: 'bad-number',
    line,
    detail: `'${text.slice(0, 40)}' in column ${column.name} is no number`,
    remedy: 'write a number, or leave the cell empty where there is no reading',
  });
}

/** Whether a column, read to its end, belongs to a trace; a note says why not. */
export function isThermocouple(column: Column, notes: string[]): boolean {
  if (column.unit === 'other' || SECONDS_IN[column.unit ?? 'C'] !== undefined) {
    notes.push(`${column.name} is no temperature; it was left out`);
    return false;
  }
  if (column.readings > 0 || column.opens > 0) return true;
  if (column.unreadable.length > 0) {
    notes.push(`${column.name} holds words only; it was left out`);
    return false;
  }
  // A delimiter at the end of every line makes a column that nobody named and nobody filled.
  return !column.name.startsWith('channel ');
}
