import { Cell } from './laid-cell.js';
import { SheetTable } from './sheet-table.js';
import { Sheet } from './sheet.js';

/** Names and what they stand for, one a row. Rows whose value is undefined are left out. */
export function pairs(sheet: Sheet, rows: readonly (readonly [name: string, value: Cell | undefined])[]): void {
  const table = new SheetTable(sheet, [
    { title: '', share: 23, head: true },
    { title: '', share: 77 },
  ]);
  for (const [name, value] of rows) if (value !== undefined) table.row([name, value]);
  table.end();
}
