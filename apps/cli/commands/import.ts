import { writeFile } from 'node:fs/promises';
import { loadConfig } from '../../../libs/config/load-config.js';
import { LocatedFile } from '../files/located-file.js';
import { countStates, ReportLine, reportFile, reportLines } from '../import/import-report.js';
import { MappedRow, mapRows } from '../import/map-rows.js';
import { missingSetup } from '../import/missing-setup.js';
import { readImportMap } from '../import/read-import-map.js';
import { readTable } from '../import/read-table.js';
import { sendMapped } from '../import/send-mapped.js';
import { ProgressLine } from '../service/progress-line.js';
import { ServiceClient, ServiceRefused } from '../service/service-client.js';
import { UnusableInput } from '../service/unusable-input.js';
import { errorInWords, withService } from '../service/with-service.js';

export interface ImportOptions {
  readonly map: string;
  readonly dryRun?: boolean;
  /** Send the rows that can be taken, though others cannot. */
  readonly partial?: boolean;
  readonly report?: string;
  readonly json?: boolean;
}

/** Faults that are told on the screen; the report has all of them. */
const MOST_TOLD = 20;

/**
 * Makes events of the rows of a CSV file and posts them.
 * @returns the exit code: 0 all rows are in the book (or could be), 1 the service refuses or cannot be reached, 2 file or map
 * cannot be used, 3 rows cannot be taken
 */
export function importLog(path: string, options: ImportOptions): Promise<number> {
  return withService(async (client) => {
    const map = readImportMap(await LocatedFile.read(options.map));
    const rows = mapRows(map, await readTable(path, map));
    if (rows.length === 0) throw new UnusableInput(`${path} has no row below its header.`);
    await tellMissing(client, rows);
    const isFit = rows.every(({ faults }) => faults.length === 0);
    const mayGo = options.dryRun !== true && (isFit || options.partial === true);
    const verdicts = mayGo ? await send(rows) : undefined;
    const lines = reportLines(rows, verdicts, isFit || options.partial === true ? 'ready' : 'withheld');
    tell(path, lines, options);
    if (options.report !== undefined) await writeReport(options.report, lines);
    return lines.some(isTrouble) ? 3 : 0;
  });
}

/** What the setup lacks stops nothing, and a key that may not look at the setup neither. */
async function tellMissing(client: ServiceClient, rows: readonly MappedRow[]): Promise<void> {
  try {
    for (const line of await missingSetup(client, rows)) process.stderr.write(`warning: ${line}\n`);
  } catch (error) {
    const why = error instanceof ServiceRefused ? error.message : errorInWords(error, client.url);
    process.stderr.write(`The setup was not looked at: ${why}\n`);
  }
}

async function send(rows: readonly MappedRow[]): ReturnType<typeof sendMapped> {
  const { url, key = '' } = loadConfig().client;
  const events = rows.flatMap((row) => row.events);
  const progress = new ProgressLine(process.stderr);
  let answered = 0;
  try {
    return await sendMapped({ url, key }, events, {
      progress: (done) => {
        answered = done;
        progress.tell('events answered for', done, events.length);
      },
      trouble: (words) => {
        progress.end();
        process.stderr.write(`${words}\n`);
      },
    });
  } catch (error) {
    progress.end();
    const told = `${String(answered)} of ${String(events.length)} events were answered for`;
    process.stderr.write(`${told}; import it again to go on, which doubles nothing.\n`);
    throw error;
  } finally {
    progress.end();
  }
}

function isTrouble({ state }: ReportLine): boolean {
  return state === 'rejected' || state === 'unmatched' || state === 'unfit';
}

function tell(path: string, lines: readonly ReportLine[], { json = false, dryRun = false }: ImportOptions): void {
  const counts = countStates(lines);
  const troubles = lines.filter(isTrouble);
  if (json) {
    process.stdout.write(`${JSON.stringify({ dryRun, counts, troubles }, null, 2)}\n`);
    return;
  }
  for (const { row, columns, type, detail } of troubles.slice(0, MOST_TOLD)) {
    const where = [columns === '' ? '' : `, column ${columns}`, type === '' ? '' : `, ${type}`].join('');
    process.stderr.write(`${path} row ${String(row)}${where}: ${detail}\n`);
  }
  if (troubles.length > MOST_TOLD) {
    process.stderr.write(`and ${String(troubles.length - MOST_TOLD)} more: --report FILE has all of them\n`);
  }
  const told = Object.entries(counts).map(([state, count]) => inWords(state as ReportLine['state'], count));
  process.stdout.write(`${told.join(', ')}${dryRun ? '; nothing was sent (dry run)' : ''}\n`);
}

const WORDS: Readonly<Record<ReportLine['state'], readonly [string, string]>> = {
  accepted: ['event', 'accepted'],
  duplicate: ['event', 'in the book already'],
  rejected: ['event', 'rejected'],
  ready: ['event', 'fit to be sent'],
  withheld: ['event', 'withheld until the rest is mended (--partial sends them)'],
  skipped: ['row', 'skipped by the map'],
  unmatched: ['row', 'that no event of the map is for'],
  unfit: ['fault', 'in rows'],
};

function inWords(state: ReportLine['state'], count: number): string {
  const [noun, what] = WORDS[state];
  return `${String(count)} ${noun}${count === 1 ? '' : 's'} ${what}`;
}

async function writeReport(path: string, lines: readonly ReportLine[]): Promise<void> {
  try {
    await writeFile(path, reportFile(path, lines));
  } catch (error) {
    throw new Error(`The report could not be written: ${error instanceof Error ? error.message : String(error)}`, {
      cause: error,
    });
  }
}
