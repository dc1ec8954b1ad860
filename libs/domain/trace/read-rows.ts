import { blankColumn, Column, isThermocouple, RawColumn, SECONDS_IN, takeCell } from './raw-column.js';
import { Delimiter, splitCells } from './split-cells.js';
import { ClockScale, readTime } from './trace-clock.js';
import { TextLine, TraceLayout } from './trace-layout.js';
import { MOST_PROBLEMS, TraceProblem } from './trace-problem.js';

export interface RawRows {
  /** Seconds, in the order of the file; times of day are counted from a midnight. */
  readonly times: Float64Array;
  readonly clock: boolean;
  readonly lineNumbers: Int32Array;
  readonly columns: readonly RawColumn[];
  readonly notes: readonly string[];
  readonly problems: readonly TraceProblem[];
}

/** Reads every row below the header. Columns without one reading that are no thermocouples are left out, with a note. */
export function readRows(lines: readonly TextLine[], delimiter: Delimiter, layout: TraceLayout): RawRows {
  const reader = new RowReader(lines.length, layout);
  for (const [index, line] of lines.entries()) {
    const cells = splitCells(line.text, delimiter);
    reader.take(line.number, cells, delimiter, index === lines.length - 1);
  }
  return reader.finish();
}

class RowReader {
  private readonly times: Float64Array;
  private readonly lineNumbers: Int32Array;
  private readonly columns: readonly Column[];
  private readonly scale = new ClockScale();
  private readonly notes: string[] = [];
  private readonly problems: TraceProblem[] = [];
  private readonly width: number;
  private count = 0;
  private clockRows = 0;
  private shortTimes = false;

  constructor(
    most: number,
    private readonly layout: TraceLayout,
  ) {
    this.times = new Float64Array(most);
    this.lineNumbers = new Int32Array(most);
    this.columns = layout.columns.map((column) => blankColumn(column, most));
    this.width = layout.timeCell + 1 + layout.columns.length;
  }

  take(line: number, cells: readonly string[] | undefined, delimiter: Delimiter, last: boolean): void {
    if (cells === undefined) {
      this.fail({ code: 'open-quote', line, detail: 'a quote is not closed', remedy: 'close it, or leave quotes out' });
    } else if (cells.slice(this.width).some((cell) => cell !== '')) {
      this.fail(this.tooLong(line, cells.length, delimiter));
    } else if (last && cells.length < this.width && this.count > 0) {
      this.notes.push(`line ${line}, the last, is cut off; it was left out`);
    } else {
      this.takeCells(line, cells);
    }
  }

  private takeCells(line: number, cells: readonly string[]): void {
    const seconds = this.readSeconds(cells);
    if (seconds === undefined) {
      if (cells.slice(this.layout.timeCell + 1).every((cell) => cell === '')) {
        this.notes.push(`line ${line} holds no row; it was left out`);
      } else {
        this.fail(badTime(line, cells[this.layout.timeCell] ?? ''));
      }
      return;
    }
    this.times[this.count] = seconds;
    this.lineNumbers[this.count] = line;
    for (const column of this.columns) takeCell(column, this.count, line, cells[column.cell] ?? '');
    this.count++;
  }

  private readSeconds(cells: readonly string[]): number | undefined {
    const time = readTime(cells[this.layout.timeCell] ?? '');
    if (time?.form === 'plain') return time.count * (SECONDS_IN[this.layout.timeUnit ?? 's'] ?? 1);
    if (time === undefined) return undefined;
    this.clockRows++;
    this.shortTimes ||= time.short === true;
    if (!this.layout.dateBefore) return this.scale.secondsOf(time);
    const dated = readTime(`${cells[this.layout.timeCell - 1] ?? ''} ${cells[this.layout.timeCell] ?? ''}`);
    return dated?.form === 'clock' ? this.scale.secondsOf(dated) : undefined;
  }

  private tooLong(line: number, found: number, delimiter: Delimiter): TraceProblem {
    const doubled = delimiter === ',' && (found === this.width * 2 || found === this.width * 2 - 1);
    return {
      code: doubled ? 'ambiguous-decimals' : 'row-too-long',
      line,
      detail: `the row has ${found} cells, the header ${this.width}`,
      remedy: doubled
        ? 'decimal commas cannot stand between commas: part the columns with semicolons or tabs'
        : 'give every column a name in the header',
    };
  }

  private fail(problem: TraceProblem): void {
    if (this.problems.length < MOST_PROBLEMS) this.problems.push(problem);
  }

  finish(): RawRows {
    if (this.clockRows > 0 && this.clockRows < this.count) this.fail(MIXED_TIMES);
    const kept = this.columns.filter((column) => isThermocouple(column, this.notes));
    for (const { unreadable } of kept)
      unreadable.forEach((problem) => {
        this.fail(problem);
      });
    if (this.shortTimes && !this.layout.dateBefore) this.notes.push('times with one colon are read as minutes:seconds');
    if (this.scale.midnights > 0) this.notes.push('the times of day pass midnight');
    if (this.layout.timeUnit !== undefined && this.clockRows === 0 && this.layout.timeUnit !== 's') {
      this.notes.push(`times are in ${this.layout.timeUnit}; converted to seconds`);
    }
    return {
      times: this.times.slice(0, this.count),
      clock: this.clockRows > 0,
      lineNumbers: this.lineNumbers.slice(0, this.count),
      columns: kept,
      notes: this.notes,
      problems: this.problems,
    };
  }
}

const MIXED_TIMES: TraceProblem = {
  code: 'bad-time',
  detail: 'some rows have a time of day and others a plain number of seconds',
  remedy: 'write all times in one way',
};

function badTime(line: number, text: string): TraceProblem {
  return {
    code: 'bad-time',
    line,
    detail: `'${text.slice(0, 40)}' is no time`,
    remedy: 'write seconds, HH:MM:SS, or a date and a time of day',
  };
}
