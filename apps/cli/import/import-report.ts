import { stringify } from 'csv-stringify/sync';
import { Verdict } from '../../../libs/station-client/outbox/send-batch.js';
import { MappedRow, RowFault } from './map-rows.js';
import { eventKey } from './send-mapped.js';

/** What became of an event, or of a row that makes none. */
export interface ReportLine {
  readonly row: number;
  readonly state: 'accepted' | 'duplicate' | 'rejected' | 'ready' | 'withheld' | 'skipped' | 'unmatched' | 'unfit';
  readonly source: string;
  readonly id: string;
  readonly type: string;
  readonly subject: string;
  readonly time: string;
  readonly columns: string;
  readonly detail: string;
}

const NO_EVENT = { source: '', id: '', type: '', subject: '', time: '', columns: '', detail: '' };

/**
 * A line for each event, fault and row without event, in the order of the rows.
 * @param verdicts by `eventKey`, or undefined where nothing was sent
 * @param unsent what is said of events that were not sent
 */
export function reportLines(
  rows: readonly MappedRow[],
  verdicts: ReadonlyMap<string, Verdict> | undefined,
  unsent: 'ready' | 'withheld',
): readonly ReportLine[] {
  return rows.flatMap(({ row, state, events, faults, notes }): readonly ReportLine[] => {
    if (state === 'skipped') return [{ ...NO_EVENT, row, state }];
    if (state !== 'mapped') return faults.map((fault) => ({ ...NO_EVENT, row, state, ...inWords(fault) }));
    const noted = notes.map(({ detail }) => detail).join('; ');
    return events.map((event) => {
      const { source, id, type, subject, time } = event;
      const verdict = verdicts?.get(eventKey(event));
      const detail = verdict?.state === 'rejected' ? problemInWords(verdict.problem) : noted;
      return { row, state: verdict?.state ?? unsent, source, id, type, subject, time, columns: '', detail };
    });
  });
}

function inWords({ columns, detail }: RowFault): Pick<ReportLine, 'columns' | 'detail'> {
  return { columns: columns.join(', '), detail };
}

function problemInWords({ detail, title, status }: (Verdict & { state: 'rejected' })['problem']): string {
  return `${String(status)}: ${detail ?? title ?? 'the service does not say why'}`;
}

/** As CSV, for the spreadsheet that the log came from; or as JSON where the name of the file says so. */
export function reportFile(path: string, lines: readonly ReportLine[]): string {
  if (path.endsWith('.json')) return `${JSON.stringify(lines, null, 2)}\n`;
  return stringify([...lines], {
    header: true,
    columns: Object.keys({ row: 0, state: '', ...NO_EVENT }),
    escape_formulas: true,
  });
}

/** How many lines there are of each state. */
export function countStates(lines: readonly ReportLine[]): Readonly<Partial<Record<ReportLine['state'], number>>> {
  const counts: Partial<Record<ReportLine['state'], number>> = {};
  for (const { state } of lines) counts[state] = (counts[state] ?? 0) + 1;
  return counts;
}
