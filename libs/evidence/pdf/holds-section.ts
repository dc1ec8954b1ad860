import { Disposition, HoldRelease } from '../../ledger/holds/hold-record.js';
import { HoldView } from '../../ledger/views/hold-view.js';
import { REASON_WORDS } from './hold-words.js';
import { pairs } from './pairs.js';
import { Report } from './report.js';
import { Cell } from './laid-cell.js';
import { counted, figure, listed, shownSubject, shownTime } from './shown-values.js';
import { People, signatureWords } from './signature-words.js';

/** Holds that are told one by one. */
const MOST_HOLDS = 300;
const MOST_DETAILS = 12;

/** Every stop on the unit and what is on it, whatever became of it. */
export function* holdsSection({ source, sheet, people }: Report): Generator<undefined, void> {
  const { holds } = source;
  sheet.begin('Holds', 2);
  if (holds.length === 0) sheet.paragraph('Nothing was ever held.');
  for (const hold of holds.slice(0, MOST_HOLDS)) {
    sheet.part(`${shownSubject(hold.subject)}: ${REASON_WORDS[hold.reason]}`, 90);
    pairs(sheet, rowsOf(hold, people));
    yield;
  }
  const left = holds.length - MOST_HOLDS;
  if (left > 0) sheet.paragraph(`${counted(left, 'hold is', 'holds are')} left to the JSON file.`);
}

function rowsOf(hold: HoldView, people: People): readonly (readonly [string, Cell | undefined])[] {
  const { evidence, release } = hold;
  return [
    ['State', stateWords(hold)],
    ['Hold', `${hold.id} (${hold.reason})`],
    [
      'Raised',
      `${shownTime(hold.raisedAt)} ${hold.raisedBy === null ? 'by the rules' : `by account ${hold.raisedBy}`}`,
    ],
    ['Cause', causeWords(hold)],
    ['Evidence', lines([evidence.summary, ...figuresOf(hold), ...(evidence.details ?? []).slice(0, MOST_DETAILS)])],
    ['Limit', limitWords(hold)],
    ['What resolves it', hold.remedy],
    ...hold.dispositions.map((disposition, index) => {
      return [`Disposition ${String(index + 1)}`, dispositionCell(disposition, people)] as const;
    }),
    ['Release', release === null ? undefined : releaseCell(release, people)],
  ];
}

function stateWords({ state, stage, causeGone, decision }: HoldView): string {
  const gone = causeGone ? '; its cause is gone by what came to light later' : '';
  return `${state} (${stage})${decision === null ? '' : `, decided: ${decision}`}${gone}`;
}

function causeWords({ cause, station, operator }: HoldView): string | undefined {
  if (cause === null) return undefined;
  if ('by' in cause) return `raised by account ${cause.by}: ${cause.note}`;
  const at = [station === null ? '' : `, station ${station}`, operator === null ? '' : `, operator ${operator}`].join(
    '',
  );
  return `event ${cause.id} from ${cause.source}, ${shownTime(cause.time)}${at}`;
}

function figuresOf({ evidence: { used, allowed, unit = '' } }: HoldView): string[] {
  if (used === undefined || typeof allowed !== 'number') return [];
  return [`found ${figure(used, unit, 4)}, allowed ${figure(allowed, unit, 4)}`];
}

function limitWords({ evidence: { limit } }: HoldView): Cell | undefined {
  if (limit === undefined) return undefined;
  const { name, revision, source, concession } = limit;
  return lines([
    `${name} r${String(revision)}`,
    source,
    ...(concession === undefined ? [] : [`concession ${concession}`]),
  ]);
}

function dispositionCell({ decision, note, approved, signature }: Disposition, people: People): Cell {
  const by = approved ? ', with the role approver' : '';
  return lines([`${decision}${by}`, note, ...signatureWords(signature, people)]);
}

function releaseCell({ by, at, note, signature, approved, withoutCause }: HoldRelease, people: People): Cell {
  const signed =
    signature === null
      ? [`by account ${by} at ${shownTime(at)}; from before there were signatures`]
      : signatureWords(signature, people);
  const how = [
    approved ? 'with the role approver' : '',
    withoutCause ? 'nothing had been decided, since the cause was gone' : '',
  ];
  const words = listed(
    how.filter((one) => one !== ''),
    MOST_DETAILS,
  );
  return lines([words === '' ? 'released' : `released ${words}`, note, ...signed]);
}

function lines(texts: readonly string[]): Cell {
  return { blocks: texts.filter((text) => text !== '').map((text) => ({ text })) };
}
