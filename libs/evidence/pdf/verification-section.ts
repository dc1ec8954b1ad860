import { AuditSource } from '../../ledger/audits/audit-source.js';
import { LogEvidence } from '../../ledger/log/log-evidence.js';
import { parseCheckpoint } from '../../ledger/log/notes/checkpoint.js';
import { toHex } from '../../ledger/log/notes/hex.js';
import { parseNote } from '../../ledger/log/notes/signed-note.js';
import { pairs } from './pairs.js';
import { qrFigure } from './qr-figure.js';
import { Report } from './report.js';
import { Cell } from './laid-cell.js';
import { SheetTable } from './sheet-table.js';
import { counted, shownTime } from './shown-values.js';

const PACE = 25;
const QR_SIDE = 118;
const NO_LOG = 'no site-wide log';

/** What to hold this document against, how to check it, and what it cannot show. */
export function* verificationSection({ source, sheet }: Report): Generator<undefined, void> {
  sheet.begin('Verification', 2);
  const { ledger, log } = source;
  pairs(sheet, [['Entries', String(ledger.count)], ['Head hash', mono([ledger.headHash])], ...logRows(log)]);
  yield;
  const text = qrText(source);
  qrFigure(sheet, text, `QR code with this text: ${text.replaceAll('\n', '; ')}.`, QR_SIDE);
  sheet.paragraph(`The code holds: ${text.replaceAll('\n', ' / ')}`, { size: 6.5 });
  yield* ledgers(source, sheet);
  howTo(sheet);
  sheet.paragraph(drawnOtherwise(sheet));
}

/** What the code says: enough to find the export again and to see whether another one is of the same book. */
function qrText({ ledger, log }: AuditSource): string {
  return [
    'heatbook audit',
    ledger.subject,
    `entries ${String(ledger.count)}`,
    `head ${ledger.headHash}`,
    `log ${log?.origin ?? 'none'}`,
  ].join('\n');
}

function logRows(log: LogEvidence | null): readonly (readonly [string, Cell | undefined])[] {
  if (log === null) return [['Checkpoint', `${NO_LOG}: there is no signed checkpoint yet, or nothing that signs`]];
  const checkpoint = parseCheckpoint(parseNote(log.checkpoint)?.text ?? '');
  const key = log.keys.at(-1);
  return [
    ['Log', log.origin],
    [
      'Checkpoint size',
      checkpoint === undefined ? 'the checkpoint cannot be read' : counted(checkpoint.size, 'entry', 'entries'),
    ],
    ['Checkpoint root', checkpoint === undefined ? undefined : mono([toHex(checkpoint.root)])],
    ['Key', key === undefined ? 'none' : mono([key.vkey, `in use since ${shownTime(key.since)}`])],
    [
      'Censuses',
      `${counted(log.censuses.length, 'census is', 'censuses are')} proved in the JSON file; ${String(log.censusesLeftOut)} older ones are left out`,
    ],
  ];
}

function* ledgers({ ledger, devices, log }: AuditSource, sheet: Report['sheet']): Generator<undefined, void> {
  sheet.part('Ledgers of this export');
  const table = new SheetTable(sheet, [
    { title: 'Ledger', share: 20, head: true },
    { title: 'Entries', share: 8, right: true },
    { title: 'Head hash (SHA-256)', share: 57 },
    { title: 'Leaf in the log', share: 15 },
  ]);
  for (const [index, { subject, count, headHash }] of [ledger, ...devices].entries()) {
    const leaf = log?.inclusion.find((one) => one.subject === subject);
    const place = leaf === undefined ? 'none' : `${String(leaf.index)} (entry ${String(leaf.seq)})`;
    table.row([subject, String(count), mono([headHash]), place]);
    if (index % PACE === PACE - 1) yield;
  }
  table.end();
}

function howTo(sheet: Report['sheet']): void {
  sheet.part('How to check');
  const steps = [
    '1. Take the JSON file of the same export. Run “heatbook verify FILE”, or open the page /verify of the house and choose the file: both work without a network and say in words what holds and what does not.',
    '2. Compare the number of entries and the head hash of each ledger above with what the check tells of the file, and the root where both are under a checkpoint of the same size. The code holds the figures of the unit’s own ledger.',
    '3. With a checkpoint or a key that you received earlier, add --checkpoint and --key: then a book that was put back or rewritten since is found as well.',
  ];
  for (const step of steps) sheet.paragraph(step);
  sheet.part('What this document cannot show by itself');
  for (const line of [
    'A PDF carries no proof: its text could have been made by anybody. It is for people to read and file; the JSON file is what can be checked.',
    'Hashes and signatures show that entries were not changed, removed or exchanged since they were written. They do not show that what was written was true.',
    'Nothing here claims that the work or this record complies with any standard or regulation. Where a standard is named, it is the source of a figure.',
  ]) {
    sheet.paragraph(line);
  }
}

/** Says so where characters are not drawn as they stand; what was counted is complete, since this is the last section. */
function drawnOtherwise({ replaced, spelled, fromRight }: Report['sheet']): string {
  const missing = `${counted(replaced, 'character that the typefaces lack is', 'characters that the typefaces lack are')} drawn as \uFFFD`;
  const unseen = `${counted(spelled, 'character that cannot be seen is', 'characters that cannot be seen are')} spelled out in brackets, such as [U+0007]`;
  const parts = [
    ...(replaced === 0 ? [] : [missing]),
    ...(spelled === 0 ? [] : [unseen]),
    ...(fromRight ? ['words written from right to left stand one after the other from the left'] : []),
  ];
  const all = parts.length === 0 ? 'every character of what was told is drawn as it stands' : parts.join('; ');
  return `In this document ${all}; a line end within a note is drawn as ↵. The JSON file has everything as it was told.`;
}

function mono(texts: readonly string[]): Cell {
  return { blocks: texts.map((text) => ({ text, face: 'mono' as const, size: 6.5 })) };
}
