import { isUnreadable, type AuditTale, type Check, type VerificationReport } from './verification-report.js';
import { SEALED } from './verify-seal.js';

/** More findings than this are counted, not listed: the first ones show what happened. Likewise of checks and notes. */
const LISTED = 40;
const WIDTH = 100;
/** Characters of one finding, so that a long word of the file does not fill the screen. */
const LONGEST = 1000;

/** Exit code of `heatbook verify`: 0 the file holds, 1 it does not, 2 it could not be read as what it should be. */
export function verifyExitCode(report: VerificationReport): 0 | 1 | 2 {
  if (report.holds) return 0;
  return isUnreadable(report) ? 2 : 1;
}

/** A report as lines for a terminal, without colours; lines are wrapped at 100 columns. */
export function describeReport(report: VerificationReport): string[] {
  return [
    ...wrap(verdict(report), ''),
    '',
    ...checks(report.checks),
    ...findings(report),
    ...(report.tale === null ? [] : ['', 'What it tells:', ...tale(report.tale)]),
    ...listOf('To know besides:', report.notes, 'more'),
    '',
    ...wrap(`What this cannot show: ${report.limits}`, ''),
  ];
}

function verdict(report: VerificationReport): string {
  if (isUnreadable(report)) return 'This file could not be checked.';
  const about = aboutOf(report);
  if (!report.holds) return `It does not hold: ${about} has ${amount(report.findings.length, 'fault', 'faults')}.`;
  const open = report.checks.filter(({ ok }) => ok === null).length;
  const rest =
    open === 0 ? '' : ` It has nothing to show ${amount(open, 'other thing', 'other things')} by, marked "--".`;
  return report.kind === 'checkpoint'
    ? `It holds: ${about} is signed.`
    : `It holds: ${about} is as it was sealed.${rest}`;
}

function aboutOf({ kind, subject, units, entries }: VerificationReport): string {
  const long = amount(entries, 'entry', 'entries');
  if (kind === 'archive') return `the archive of ${amount(units, 'unit', 'units')} (${long})`;
  if (kind === 'checkpoint') return `the checkpoint of ${visible(subject ?? 'an unnamed log')}`;
  return `the audit of ${visible(subject ?? 'an unnamed unit')} (${long})`;
}

/** Failed ones first to be seen where there are many. */
function checks(all: readonly Check[]): string[] {
  const shown = all.length <= LISTED ? all : [...all].sort((a, b) => rank(a) - rank(b)).slice(0, LISTED);
  const lines = shown.map(({ name, ok }) => `  ${ok === null ? '--    ' : ok ? 'ok    ' : 'NOT OK'}  ${visible(name)}`);
  if (shown.length < all.length) lines.push(`  and ${all.length - shown.length} more checks.`);
  return lines;
}

function rank({ ok }: Check): number {
  return ok === false ? 0 : ok === null ? 1 : 2;
}

function findings(report: VerificationReport): string[] {
  if (report.holds) return [];
  const lines = report.findings.slice(0, LISTED).flatMap(({ file, ledger, what }) => {
    const where = [file, ledger].filter((part) => part !== undefined && part !== null);
    return wrap([...where, what].join(': '), '  ');
  });
  const rest = report.findings.length - LISTED;
  if (rest > 0) lines.push(`  and ${amount(rest, 'more fault', 'more faults')}.`);
  return ['', ...lines, ...sealNote(report)];
}

/** The seal spans the whole file, so beside other faults it no longer tells whether the summary was touched as well. */
function sealNote(report: VerificationReport): string[] {
  const explained = report.findings.some(({ code }) => code === 'document-changed' || code === 'seal-missing');
  const broken = report.checks.some(({ name, ok }) => name === SEALED && ok === false);
  if (explained || !broken) return [];
  const note =
    'The seal covers the whole file and is broken by the above already: it does not tell whether the unit summary or ' +
    'the configuration was changed too.';
  return ['', ...wrap(note, '  ')];
}

function tale({
  exportedAt,
  heads,
  checkpoint,
  types,
  struck,
  rejudged,
  concessions,
  signatures,
  holds,
}: AuditTale): string[] {
  const told = [
    `Made at ${exportedAt ?? 'an unknown time'}: what was entered later is in a later export.`,
    ...heads.first.map(
      ({ ledger, count, headHash }) => `${ledger}: ${amount(count, 'entry', 'entries')}, head hash ${headHash}`,
    ),
    ...(checkpoint === null
      ? []
      : [`Checkpoint of the log: ${amount(checkpoint.size, 'entry', 'entries')}, root ${checkpoint.root}`]),
    `Entries by kind: ${types.map(({ type, count }) => `${count} ${type}`).join(', ') || 'none'}.`,
    ...struck.first.map(
      ({ ledger, seq, event, by }) => `Struck by entry ${seq} of ${ledger}, signed by ${by}: ${event}.`,
    ),
    ...(rejudged === 0 ? [] : [`Judged otherwise after the fact: ${amount(rejudged, 'entry', 'entries')}.`]),
    ...(concessions.signed + concessions.withdrawn === 0
      ? []
      : [`Concessions: ${concessions.signed} signed, ${concessions.withdrawn} withdrawn.`]),
    ...(holds === null ? [] : [`Holds: ${holds.map(({ state, count }) => `${count} ${state}`).join(', ') || 'none'}.`]),
    ...signatures.first.map(
      ({ ledger, seq, by, meaning, at }) => `Signed in entry ${seq} of ${ledger}: ${by}, ${at}, "${meaning}".`,
    ),
  ];
  return told.slice(0, LISTED).flatMap((line) => wrap(line, '  '));
}

function listOf(title: string, lines: readonly string[], more: string): string[] {
  if (lines.length === 0) return [];
  const rest = lines.length > LISTED ? [`and ${lines.length - LISTED} ${more}.`] : [];
  return ['', title, ...[...lines.slice(0, LISTED), ...rest].flatMap((line) => wrap(line, '  '))];
}

function amount(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** Words of the file stand in the findings: control characters would speak to the terminal, and are shown instead. */
function visible(text: string): string {
  const short = text.length > LONGEST ? `${text.slice(0, LONGEST)} ...` : text;
  return short.replace(/\p{C}/gu, (char) => `<U+${char.codePointAt(0)?.toString(16).padStart(4, '0') ?? ''}>`);
}

function wrap(text: string, indent: string): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of visible(text).split(' ')) {
    if (line !== '' && indent.length + line.length + 1 + word.length > WIDTH) {
      lines.push(indent + line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return [...lines, indent + line];
}
