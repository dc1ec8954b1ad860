import { ChecklistRow } from './checklist-row.js';
import { IPC1782_ROWS } from './ipc1782-rows.js';
import { ISO9001_ROWS } from './iso9001-rows.js';
import { PART11_ROWS } from './part11-rows.js';

/**
 * What an auditor may ask of a unit's record, clause by clause, and where an export shows it. It is a help for looking. It
 * does not say that house or product complies with anything. docs/guide/auditors.md prints it.
 */
export const AUDITOR_CHECKLIST: readonly ChecklistRow[] = [...ISO9001_ROWS, ...PART11_ROWS, ...IPC1782_ROWS];
