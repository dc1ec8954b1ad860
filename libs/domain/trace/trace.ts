/** What a cell of a trace holds: nothing, a reading, or the logger's own word that the circuit is open. */
export const MISSING = 0;
export const READ = 1;
export const OPEN = 2;

/** One column of a trace. `values` is free of NaN: where `marks` is not READ it holds 0 and means nothing. */
export interface TraceChannel {
  readonly name: string;
  readonly unit: 'C' | 'mV';
  readonly values: Float64Array;
  /** MISSING, READ or OPEN for each value. */
  readonly marks: Uint8Array;
}

/**
 * A log of several thermocouples: `seconds` rise strictly; every channel has one value for each of them.
 * `notes` say, in words for a person, what was taken for granted or set right on the way here.
 */
export interface Trace {
  readonly seconds: Float64Array;
  readonly channels: readonly TraceChannel[];
  readonly notes: readonly string[];
}

/** A value by index, 0 beyond the end. One function for each kind of array: shared, it would slow every loop down. */
export function at(values: Float64Array, index: number): number {
  return values[index] ?? 0;
}

/** A mark by index, MISSING beyond the end. */
export function markAt(marks: Uint8Array, index: number): number {
  return marks[index] ?? MISSING;
}

/** A row or line number by index, 0 beyond the end. */
export function rowAt(rows: Int32Array, index: number): number {
  return rows[index] ?? 0;
}
