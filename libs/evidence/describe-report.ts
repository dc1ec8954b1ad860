import { isUnreadable, type VerificationReport } from './verification-report.js';

/** More findings than this are counted, not listed: the first ones show what happened. */
const LISTED = 40;
const WIDTH = 100;
/** Characters of one finding, so that a long word of the file does not fill the screen. */
const LONGEST = 1000;

/** Exit code of `heatbook verify`: 0 the file holds, 1 it does not, 2 it could not be read as an audit. */
export function verifyExitCode(report: VerificationReport): 0 | 1 | 2 {
  if (report.holds) return 0;
  return isUnreadable(report) ? 2 : 1;
}

/** A report as lines for a terminal, without colours; lines are wrapped at 100 columns. */
export function describeReport(report: VerificationReport): string[] {
  return [
    verdict(report),
    '',
    ...report.checks.map((check) => `  ${check.ok ? 'ok    ' : 'NOT OK'}  ${visible(check.name)}`),
    ...findings(report),
    '',
    ...wrap(`What this cannot show: ${report.limits}`, ''),
  ];
}

function verdict(report: VerificationReport): string {
  if (isUnreadable(report)) return 'This file could not be checked.';
  const about = `the audit of ${visible(report.subject ?? 'an unnamed unit')} (${amount(report.entries, 'entry', 'entries')})`;
  if (report.holds) return `It holds: ${about} is as it was sealed.`;
  return `It does not hold: ${about} has ${amount(report.findings.length, 'fault', 'faults')}.`;
}

function findings(report: VerificationReport): string[] {
  if (report.holds) return [];
  const lines = report.findings
    .slice(0, LISTED)
    .flatMap(({ ledger, what }) => wrap(ledger === null ? what : `${ledger}: ${what}`, '  '));
  const rest = report.findings.length - LISTED;
  if (rest > 0) lines.push(`  and ${amount(rest, 'more fault', 'more faults')}.`);
  return ['', ...lines, ...sealNote(report)];
}

/** The seal spans the whole file, so beside other faults it no longer tells whether the summary was touched as well. */
function sealNote(report: VerificationReport): string[] {
  const explained = report.findings.every(({ code }) => code === 'document-changed' || code === 'seal-missing');
  if (explained || isUnreadable(report) || report.checks.at(-1)?.ok !== false) return [];
  const note =
    'The seal covers the whole file and is broken by the above already: it does not tell whether the unit summary or ' +
    'the configuration was changed too.';
  return ['', ...wrap(note, '  ')];
}

function amount(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** Words of the file stand in the findings: control characters would speak to the terminal, and are shown instead. */
function visible(text: string): string {
  const shown = text.replace(/\p{C}/gu, (char) => `<U+${char.codePointAt(0)?.toString(16).padStart(4, '0') ?? ''}>`);
  return shown.length > LONGEST ? `${shown.slice(0, LONGEST)} ...` : shown;
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
