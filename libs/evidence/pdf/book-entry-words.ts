import { memberOf } from '../../ledger/audits/member-of.js';
import { BOOK_ENTRY_TYPES, BookEffect } from '../../ledger/fold/book-effect.js';
import { SealedEntry } from '../../ledger/ports/seal.js';
import { StepWords } from './event-words.js';
import { REASON_WORDS } from './hold-words.js';
import { BUDGET_WORDS, counted, listed, shownSubject } from './shown-values.js';
import { People, signatureWords } from './signature-words.js';
import { changesOf } from './story-marks.js';
import { effectsOf, textIn } from './story-entry.js';

/** Most changes that are named one by one within an entry. */
const MOST = 6;

/** An entry that the book made by itself or for a person, in words. */
export function bookEntryWords(entry: SealedEntry, people: People): StepWords {
  const signature = memberOf(entry.data, 'signature');
  const signed = signature === undefined ? [] : signatureWords(signature, people);
  const note = textIn(entry.data, 'note') ?? textIn(memberOf(entry.data, 'signed'), 'note');
  const said = note === undefined ? [] : [`note: ${note}`];
  return { what: titleOf(entry), details: [...toldOf(entry), ...said, ...signed] };
}

function titleOf({ type, event }: SealedEntry): string {
  switch (type) {
    case BOOK_ENTRY_TYPES.rejudged:
      return 'Judged anew';
    case BOOK_ENTRY_TYPES.annulled:
      return `Event ${event?.id ?? 'unknown'} annulled`;
    case BOOK_ENTRY_TYPES.deviceMoved:
      return 'Device moved by a step of its unit';
    case BOOK_ENTRY_TYPES.holdRaised:
      return 'Hold raised';
    case BOOK_ENTRY_TYPES.holdDisposed:
      return 'Hold disposed of';
    case BOOK_ENTRY_TYPES.holdReleased:
      return 'Hold released';
    case BOOK_ENTRY_TYPES.clearanceGranted:
      return 'Clearance granted';
    case BOOK_ENTRY_TYPES.clearanceReturned:
      return 'Clearance given back';
    case BOOK_ENTRY_TYPES.clearanceLapsed:
      return 'Clearance lapsed';
    case BOOK_ENTRY_TYPES.concessionSigned:
      return 'Concession signed';
    case BOOK_ENTRY_TYPES.concessionWithdrawn:
      return 'Concession withdrawn';
    case BOOK_ENTRY_TYPES.limitRechecked:
      return 'Judged by a limit that came into force';
    default:
      return type;
  }
}

function toldOf(entry: SealedEntry): readonly string[] {
  if (entry.type === BOOK_ENTRY_TYPES.annulled) return [`told by ${entry.event?.source ?? 'nobody known'}`];
  if (entry.type !== BOOK_ENTRY_TYPES.rejudged) return effectsOf(entry).flatMap(effectWords);
  const because = memberOf(entry.data, 'because');
  const occasions = Array.isArray(because) ? because.map(occasionWords) : [];
  const changes = changesOf(entry).map(({ event }) => event.id);
  return [
    `because of ${listed(occasions, MOST)}`,
    `${counted(changes.length, 'event is', 'events are')} judged otherwise than before: ${listed(changes, MOST)}`,
    ...effectsOf(entry).flatMap(effectWords),
  ];
}

function occasionWords(occasion: unknown): string {
  const trace = textIn(occasion, 'trace');
  if (trace !== undefined) return `trace ${trace}, which came after its step`;
  const struck = textIn(memberOf(occasion, 'annulled'), 'id');
  if (struck !== undefined) return `the annulment of event ${struck}`;
  return `event ${textIn(occasion, 'id') ?? 'unknown'}, told late`;
}

/** What an entry did to holds, clearances and concessions; undefined effects of steps are told elsewhere. */
export function effectWords(effect: BookEffect): readonly string[] {
  switch (effect.kind) {
    case 'hold-called':
      return [`calls for a hold on ${shownSubject(effect.cause.subject)}: ${REASON_WORDS[effect.cause.reason]}`];
    case 'hold-raised':
    case 'hold-released':
    case 'hold-withdrawn':
    case 'hold-cause-gone':
      return [`${HOLD_ACTS[effect.kind]} on ${shownSubject(effect.subject)}: ${REASON_WORDS[effect.reason]}`];
    case 'hold-disposed':
      return [`hold on ${shownSubject(effect.subject)} (${REASON_WORDS[effect.reason]}): ${effect.decision}`];
    case 'warned':
      return [`warning on ${shownSubject(effect.subject)}: ${effect.detail}`];
    case 'clearance-granted':
      return [
        `clearance ${effect.clearance}`,
        ...effect.reserves.map(({ subject, limit, counted: held, possible }) => {
          const perhaps = possible === 0 ? '' : ` and ${String(possible)} possible`;
          return `reserves for ${shownSubject(subject)}: ${String(held)}${perhaps} (${BUDGET_WORDS[limit]})`;
        }),
      ];
    case 'clearance-returned':
    case 'clearance-lapsed':
      return [`clearance ${effect.clearance}`];
    case 'concession-signed':
      return [
        `concession ${effect.concession}: ${String(effect.allowed)} allowed of ${effect.limit} for ${shownSubject(effect.subject)}`,
      ];
    case 'concession-withdrawn':
      return [`concession ${effect.concession}: ${effect.limit} for ${shownSubject(effect.subject)}`];
    case 'shipment':
      return effect.open.length === 0 ? [] : [`shipped while open: ${listed(effect.open, MOST)}`];
    default:
      return [];
  }
}

const HOLD_ACTS = {
  'hold-raised': 'hold raised',
  'hold-released': 'hold released',
  'hold-withdrawn': 'hold withdrawn by the book',
  'hold-cause-gone': 'the cause is gone of the hold',
} as const;
