/**
 * What spreadsheets take for the beginning of a formula, as OWASP lists it (CSV injection; from memory), the full-width
 * forms among it, and the apostrophe itself, so that the guard can be taken away again.
 */
const GUARDED = /^[=+\-@\t\r\n'\uFF1D\uFF0B\uFF0D\uFF20]/;

/**
 * Puts an apostrophe before a text that a spreadsheet would take for a formula. Nothing is lost by it: whoever takes one
 * apostrophe away from every cell that begins with one has the texts as they were.
 */
export function guardCell(text: string): string {
  return GUARDED.test(text) ? `'${text}` : text;
}

/** The text that `guardCell` was given. */
export function bareCell(cell: string): string {
  return cell.startsWith("'") ? cell.slice(1) : cell;
}
