import {
  isUnreadable,
  type Check,
  type Finding,
  type VerificationReport,
} from '../../../libs/evidence/verify/verification-report.js';
import type { CheckResult } from './check-job.js';
import { amount, capital, part, partWith } from './page-part.js';
import { taleParts } from './show-tale.js';

/** More findings than this are counted, not listed: the first ones show what happened. Likewise of checks and notes. */
const LISTED = 200;

/** The verdict in one sentence. */
export function verdictOf(report: VerificationReport): string {
  if (isUnreadable(report)) return 'It could not be checked.';
  if (report.holds) return `It holds: ${aboutOf(report)}.`;
  return `It does not hold: ${aboutOf(report)}, ${amount(report.findings.length, 'fault', 'faults')}.`;
}

function aboutOf({ kind, subject, units, entries }: VerificationReport): string {
  const length = amount(entries, 'entry', 'entries');
  if (kind === 'archive') return `the archive of ${amount(units, 'unit', 'units')}, ${length}`;
  if (kind === 'checkpoint') return `the checkpoint of ${subject ?? 'an unnamed log'}`;
  return `the audit of ${subject ?? 'an unnamed unit'}, ${length}`;
}

/** The report as parts of the page, the verdict first. */
export function reportParts(result: CheckResult, file: File): HTMLElement[] {
  const { report } = result;
  return [
    verdict(report),
    ...faults(report),
    ...checks('What does not hold', 'bad', report, false),
    ...notes(report),
    ...checks('What the file has nothing to show by', 'open', report, null),
    ...checks('What holds', 'good', report, true),
    ...(report.tale === null ? [] : taleParts(report.tale)),
    limits(report),
    papers(result, file),
  ];
}

function verdict(report: VerificationReport): HTMLElement {
  const kind = report.holds ? 'good' : 'bad';
  const word = report.holds ? 'It holds' : isUnreadable(report) ? 'It could not be checked' : 'It does not hold';
  const heading = part('h2', word);
  heading.id = 'verdict';
  heading.tabIndex = -1;
  const open = report.checks.filter(({ ok }) => ok === null).length;
  const rest = open === 0 ? '' : `. It has nothing to show ${amount(open, 'thing', 'things')} by: see below`;
  const about = isUnreadable(report) ? [] : [part('p', `${capital(aboutOf(report))}${rest}.`)];
  return partWith('div', `verdict ${kind}`, [heading, ...about]);
}

function faults(report: VerificationReport): HTMLElement[] {
  if (report.findings.length === 0) return [];
  const items = report.findings.slice(0, LISTED).map(fault);
  return [
    part('h3', report.findings.length === 1 ? 'The fault' : 'The faults'),
    partWith('ol', 'faults', items),
    ...more(report.findings.length, 'more fault', 'more faults'),
  ];
}

function fault({ file, ledger, seq, what }: Finding): HTMLElement {
  const place = [file, ledger, seq === null ? null : `entry ${seq}`].filter((name) => name != null).join(', ');
  return partWith('li', '', [...(place === '' ? [] : [part('p', place, 'place')]), part('p', what)]);
}

function checks(title: string, kind: string, { checks: all }: VerificationReport, ok: Check['ok']): HTMLElement[] {
  const own = all.filter((check) => check.ok === ok);
  if (own.length === 0) return [];
  const word = ok === true ? 'holds' : ok === false ? 'does not hold' : 'not shown';
  const rows = own
    .slice(0, LISTED)
    .map(({ name }) => partWith('li', kind, [part('span', word, 'word'), part('span', name)]));
  return [part('h3', title), partWith('ul', 'checks', rows), ...more(own.length, 'more check', 'more checks')];
}

function notes({ notes: said }: VerificationReport): HTMLElement[] {
  if (said.length === 0) return [];
  const listed = said.slice(0, LISTED).map((note) => part('p', note));
  return [part('h3', 'What you should know'), ...listed, ...more(said.length, 'more note', 'more notes')];
}

/** How many of a list are not listed. */
function more(count: number, one: string, many: string): HTMLElement[] {
  return count > LISTED ? [part('p', `And ${amount(count - LISTED, one, many)}.`, 'help')] : [];
}

function limits(report: VerificationReport): HTMLElement {
  return partWith('div', 'limits', [part('h3', 'What this cannot show'), part('p', report.limits)]);
}

/** What to write down: which file it was, when, and the checkpoint to keep for the next time. */
function papers({ fileHash, checkpoint }: CheckResult, file: File): HTMLElement {
  const facts = partWith('dl', '', [
    ...fact('File', file.name),
    ...fact('Its SHA-256', fileHash),
    ...fact('Checked', new Date().toISOString()),
  ]);
  const keep =
    checkpoint === null
      ? []
      : [
          part(
            'p',
            'Keep this checkpoint: given beside a later audit, it shows whether the book was put back meanwhile.',
          ),
          part('pre', checkpoint),
        ];
  return partWith('div', 'papers', [part('h3', 'For your papers'), facts, ...keep]);
}

function fact(name: string, value: string): HTMLElement[] {
  return [part('dt', name), part('dd', value)];
}
