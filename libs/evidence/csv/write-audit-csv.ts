import { stringify } from 'csv-stringify/sync';
import { AuditLedger, AuditSource } from '../../ledger/audits/audit-source.js';
import { textChunks } from '../text-chunks.js';
import { Cell, entryCells } from './entry-cells.js';
import { guardCell } from './guard-cell.js';

/** In order; docs/guide/exports.md says what each holds. */
export const CSV_COLUMNS = [
  ...['subject', 'ledger', 'ledgers', 'seq', 'of'],
  ...['time', 'recordedAt', 'type', 'source', 'eventId', 'actorKind', 'actorName', 'operator'],
  ...['refdes', 'device', 'method', 'profile', 'peakC', 'heatStartedAt', 'heatEndedAt', 'result', 'defects'],
  ...['counted', 'holdsRaised', 'warnings', 'note', 'data', 'effects', 'rules', 'prevHash', 'hash'],
] as const;

/** Writing rows one by one costs more than the rows. */
const ROWS_AT_ONCE = 50;

/**
 * Writes an export as a table (RFC 4180, UTF-8, with a header row): one row an entry, the unit's ledger first and then one
 * device's after the other. Each row says how many ledgers there are and how many entries its own has, so that a file that
 * was cut shows it. Texts are guarded against spreadsheets by `guardCell`; figures stand as they are.
 * @throws while it is read, where a ledger does not hold together
 */
export function writeAuditCsv(source: AuditSource): AsyncGenerator<Uint8Array> {
  return textChunks(rowsOf(source));
}

async function* rowsOf({ ledger: own, devices }: AuditSource): AsyncGenerator<string> {
  let rows: string[][] = [[...CSV_COLUMNS]];
  const ledgers: readonly AuditLedger[] = [own, ...devices];
  for (const [index, ledger] of ledgers.entries()) {
    const place = { subject: ledger.subject, ledger: index + 1, ledgers: ledgers.length, of: ledger.count };
    for await (const entry of ledger.entries()) {
      const cells: Readonly<Record<string, Cell>> = { ...place, ...entryCells(entry) };
      rows.push(CSV_COLUMNS.map((column) => cellText(cells[column])));
      if (rows.length < ROWS_AT_ONCE) continue;
      yield textOf(rows);
      rows = [];
    }
  }
  yield textOf(rows);
}

function cellText(cell: Cell): string {
  return typeof cell === 'string' ? guardCell(cell) : cell === undefined ? '' : String(cell);
}

function textOf(rows: string[][]): string {
  return stringify(rows, { record_delimiter: 'windows' });
}
