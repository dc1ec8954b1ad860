/** Rows as the one parameter that json_to_recordset reads. */
export function rowsOf(rows: readonly object[]): string {
  return JSON.stringify(rows);
}

/** Rows as one array for each column, in the order of `names`: the parameters that unnest reads. */
export function columnsOf<N extends string>(
  rows: readonly Readonly<Record<N, unknown>>[],
  names: readonly N[],
): unknown[][] {
  return names.map((name) => rows.map((row) => row[name]));
}

/**
 * The parameters of a statement with each list among them as the text that Postgres reads an array from: what the driver
 * makes too, element by element.
 */
export function withArrays(values: readonly unknown[]): unknown[] {
  return values.map((value) => (Array.isArray(value) ? arrayText(value) : value));
}

/**
 * Of texts, finite numbers, booleans and nulls, and of nothing else. JSON quotes them as Postgres does, but for what it
 * writes with a backslash, which is left to the driver.
 */
function arrayText(list: readonly unknown[]): unknown {
  const text = JSON.stringify(list);
  return text.includes('\\') ? list : `{${text.slice(1, -1)}}`;
}

/** Long texts of many rows as three parameters. */
export interface LongTexts {
  /** All texts one after the other, UTF-8. Sent as they are: as parts of JSON or of an array each quote would be escaped. */
  readonly bytes: Buffer;
  /** Where each begins, counted from 1; null for a null. */
  readonly starts: readonly (number | null)[];
  /** How many bytes each has. */
  readonly lengths: readonly (number | null)[];
}

/**
 * Packs texts for `longText` to take apart. Postgres took half the time for entries of a ledger that came like this as for
 * the same rows in JSON.
 */
export function longTexts(texts: readonly (string | null)[]): LongTexts {
  const lengths = texts.map((text) => (text === null ? null : Buffer.byteLength(text)));
  // Written one by one: joining them first took several times as long.
  const bytes = Buffer.allocUnsafe(lengths.reduce<number>((sum, length) => sum + (length ?? 0), 0));
  let next = 0;
  const starts = texts.map((text) => {
    if (text === null) return null;
    const start = next + 1;
    next += bytes.write(text, next);
    return start;
  });
  return { bytes, starts, lengths };
}

/** SQL for the text of a row whose columns `start` and `length` say where in the parameter it lies. */
export function longText(parameter: `$${number}`): string {
  return `convert_from(substring(${parameter}::bytea FROM start FOR length), 'UTF8')`;
}
