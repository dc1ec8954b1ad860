import { AuditSource } from '../../ledger/audits/audit-source.js';
import { REASON_WORDS } from './hold-words.js';
import { Report } from './report.js';
import { SheetTable } from './sheet-table.js';
import { BUDGET_WORDS, counted, listed, shownSubject, shownTime } from './shown-values.js';

const MOST_POINTS = 400;
const PACE = 25;
const MOST_NAMED = 12;

type Point = readonly [kind: string, what: string, remedy: string];

/** What a reader should know to be unfinished, in doubt or not covered. */
export function* openPointsSection({ source, sheet }: Report): Generator<undefined, void> {
  sheet.begin('Open points', 2);
  const points = [...openHolds(source), ...warnings(source), ...unknowns(source), ...uncovered(source)];
  if (points.length === 0) {
    sheet.paragraph('none');
    return;
  }
  const table = new SheetTable(sheet, [
    { title: 'Kind', share: 15, head: true },
    { title: 'What', share: 50 },
    { title: 'What would settle it', share: 35 },
  ]);
  for (const [index, point] of points.slice(0, MOST_POINTS).entries()) {
    table.row(point);
    if (index % PACE === PACE - 1) yield;
  }
  table.end();
  const left = points.length - MOST_POINTS;
  if (left > 0) sheet.paragraph(`${counted(left, 'point is', 'points are')} left to the JSON file.`);
}

function openHolds({ unit }: AuditSource): Point[] {
  return unit.holds.map(({ subject, reason, raisedAt, evidence, remedy }) => {
    return [
      'open hold',
      `${shownSubject(subject)}: ${REASON_WORDS[reason]}, since ${shownTime(raisedAt)}. ${evidence.summary}`,
      remedy,
    ];
  });
}

function warnings({ unit }: AuditSource): Point[] {
  return unit.warnings.map(({ code, subject, detail, remedy, count, firstAt, lastAt }) => {
    const times = count === 1 ? '' : ` (${String(count)} times, from ${shownTime(firstAt)} to ${shownTime(lastAt)})`;
    return ['warning', `${shownSubject(subject)}, ${code}: ${detail}${times}`, remedy];
  });
}

function unknowns({ unit }: AuditSource): Point[] {
  const subjects = new Map<string, string[]>();
  for (const { subject, limit, basis } of unit.budgets) {
    if (basis !== 'unknown') continue;
    const words = BUDGET_WORDS[limit];
    subjects.set(words, [...(subjects.get(words) ?? []), shownSubject(subject)]);
  }
  const told = [...subjects].map(([words, of]): Point => {
    const what = `${words} from before the book are not known: ${listed(of, MOST_NAMED)}.`;
    return ['unknown history', what, 'Ask the owner, who can declare them at receipt.'];
  });
  const { unknown, remedy } = unit.moisture;
  if (unknown.length === 0) return told;
  const what = `moisture is not known: ${listed(unknown, MOST_NAMED)}.`;
  return [...told, ['unknown history', what, remedy ?? 'Bake, or say how they were stored.']];
}

/** Entries that no signed checkpoint vouches for yet. */
function uncovered({ log, ledger, devices }: AuditSource): Point[] {
  const settle =
    'Export again later: entries come under a checkpoint within seconds of being written, where the house signs.';
  if (log === null) {
    return [
      [
        'not under a checkpoint',
        'No entry of this export is under a signed checkpoint: the site-wide log has none.',
        settle,
      ],
    ];
  }
  const reach = new Map(log.inclusion.map(({ subject, seq }) => [subject, seq]));
  const open = [ledger, ...devices].flatMap(({ subject, count }) => {
    const left = count - (reach.get(subject) ?? 0);
    return left <= 0 ? [] : [`${subject}: the last ${counted(left, 'entry', 'entries')}`];
  });
  return open.length === 0 ? [] : [['not under a checkpoint', listed(open, MOST_NAMED), settle]];
}
