export type Delimiter = ',' | ';' | '\t';

/** Preferred first: a tab or semicolon file may be full of decimal commas, a comma file never holds the others. */
const DELIMITERS: readonly Delimiter[] = ['\t', ';', ','];
const LINES_TO_JUDGE_BY = 40;

/**
 * Cells of one line, trimmed, quotes taken off ("" inside quotes is one quote); undefined where a quote stays open.
 */
export function splitCells(line: string, delimiter: Delimiter): string[] | undefined {
  if (!line.includes('"')) return line.split(delimiter).map((cell) => cell.trim());
  const cells: string[] = [];
  let cell = '';
  let quoted = false;
  for (let index = 0; index < line.length; index++) {
    const char = line.charAt(index);
    if (char === '"' && quoted && line.charAt(index + 1) === '"') {
      cell += '"';
      index++;
    } else if (char === '"') {
      quoted = !quoted;
    } else if (char === delimiter && !quoted) {
      cells.push(cell.trim());
      cell = '';
    } else {
      cell += char;
    }
  }
  return quoted ? undefined : [...cells, cell.trim()];
}

/** The delimiter that parts most lines of a file into columns; comma where none does. */
export function detectDelimiter(lines: readonly string[]): Delimiter {
  const judged = lines.slice(0, LINES_TO_JUDGE_BY);
  return (
    DELIMITERS.find((delimiter) => {
      const parted = judged.filter((line) => (splitCells(line, delimiter)?.length ?? 0) > 1);
      return parted.length * 2 > judged.length;
    }) ?? ','
  );
}
