import { readFile } from 'node:fs/promises';
import { CsvError, parse } from 'csv-parse/sync';
import { errorCode } from '../../house/error-code.js';
import { nearestWord } from '../../../libs/ledger/intake/nearest-word.js';
import { UnusableInput } from '../service/unusable-input.js';
import { ImportMap } from './import-map.js';

/** A row of a spreadsheet log. */
export interface TableRow {
  /** As the spreadsheet counts it: the first row is 1. */
  readonly row: number;
  /** Columns to what is in them, without spaces around; those that are empty are not there. */
  readonly cells: ReadonlyMap<string, string>;
}

const DELIMITERS = [';', '\t', ',', '|'];
/** A log of years, in one go. */
const MOST_BYTES = 256 * 2 ** 20;

type TableOptions = Pick<ImportMap, 'encoding' | 'delimiter' | 'headerRow' | 'columns'>;

/**
 * Reads a CSV file. Rows with nothing in them are passed over.
 * @throws UnusableInput where it cannot be read so, or lacks a column that the map looks at
 */
export async function readTable(path: string, options: TableOptions): Promise<readonly TableRow[]> {
  return tableIn(path, await textOf(path, options.encoding), options);
}

/** What `readTable` does with the text of a file. */
export function tableIn(
  path: string,
  text: string,
  { delimiter, headerRow, columns }: TableOptions,
): readonly TableRow[] {
  const records = recordsIn(path, text, delimiter ?? delimiterIn(text, headerRow));
  const header = (records[headerRow - 1] ?? []).map((name) => name.trim());
  checkHeader(path, header, columns);
  return records.slice(headerRow).flatMap((record, n) => {
    const filled = header.flatMap((column, place) => {
      const cell = (record[place] ?? '').trim();
      return column === '' || cell === '' ? [] : [[column, cell] as const];
    });
    return filled.length === 0 ? [] : [{ row: headerRow + n + 1, cells: new Map(filled) }];
  });
}

function recordsIn(path: string, text: string, delimiter: string): string[][] {
  try {
    // Rows are counted as the spreadsheet does, so none is passed over here.
    return parse(text, { delimiter, bom: true, relax_column_count: true, skip_empty_lines: false });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    throw new UnusableInput(`${path} cannot be read as CSV with "${delimiter}" between cells: ${error.message}.`);
  }
}

/** The sign that the header has most of. */
function delimiterIn(text: string, headerRow: number): string {
  const header = text.split(/\r?\n/, headerRow)[headerRow - 1] ?? '';
  const counts = DELIMITERS.map((sign) => header.split(sign).length);
  return DELIMITERS[counts.indexOf(Math.max(...counts))] ?? ',';
}

function checkHeader(path: string, header: readonly string[], columns: ImportMap['columns']): void {
  const twice = header.filter((name, place) => columns.has(name) && header.indexOf(name) < place);
  const faults = twice.map((name) => `${path}: there are two columns "${name}"; give each a name of its own.`);
  for (const [name, at] of columns) {
    if (header.includes(name)) continue;
    const nearest = nearestWord(name, header);
    const hint = nearest === undefined ? `It has ${header.join(', ')}.` : `Did you mean "${nearest}"?`;
    faults.push(`${at}: ${path} has no column "${name}". ${hint}`);
  }
  if (faults.length > 0) throw new UnusableInput(faults.join('\n'));
}

async function textOf(path: string, encoding: string): Promise<string> {
  try {
    const bytes = await readFile(path);
    if (bytes.length > MOST_BYTES) throw new UnusableInput(`${path} has more than 256 MiB: import it in parts.`);
    return new TextDecoder(encoding, { fatal: true }).decode(bytes);
  } catch (error) {
    if (error instanceof UnusableInput) throw error;
    if (errorCode(error) === 'ERR_ENCODING_INVALID_ENCODED_DATA') {
      throw new UnusableInput(
        `${path} is not ${encoding}: save it as "CSV UTF-8", or say in the map how it is written, such as encoding: windows-1252.`,
      );
    }
    throw new UnusableInput(`${path} cannot be read (${errorCode(error) ?? String(error)}).`);
  }
}
