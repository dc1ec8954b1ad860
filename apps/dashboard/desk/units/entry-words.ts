import { entryWords, limitWords } from '../words/words.js';
import { effectInWords, shortSubject } from './effect-words.js';
import {
  ANNULLED,
  effectsOf,
  type EntryLike,
  isVerdict,
  memberIn,
  MOVED,
  REJUDGED,
  stepOf,
  textIn,
} from './entry-parts.js';
import { type EntryWords, stepInWords } from './step-words.js';

/** Most events that are named one by one where an entry judges several anew. */
const MOST = 6;

/** What an entry tells: a line, what was said, and then what came of it. An unknown type is named as it is. */
export function entryInWords(entry: EntryLike): EntryWords {
  const effects = effectsOf(entry).map(effectInWords);
  const step = stepOf(entry);
  if (step !== undefined) {
    const { title, details } = stepInWords(step);
    return { title, details: [...details, ...noteOf(entry), ...effects] };
  }
  return { title: bookTitle(entry), details: [...bookDetails(entry), ...noteOf(entry), ...effects] };
}

/** What an entry counted, short: `U1 excursion, K-0103 excursion`. Empty where nothing was. */
export function countedInShort({ effects }: Pick<EntryLike, 'effects'>): readonly string[] {
  const short: Readonly<Record<string, string>> = {
    'device-excursions': 'excursion',
    'site-excursions': 'excursion',
    'site-reworks': 'rework',
    'site-dressings': 'dressing',
    'unit-reflows': 'reflow',
  };
  return effectsOf({ effects: [...effects] })
    .filter(isVerdict)
    .filter(({ kind }) => kind !== 'clear')
    .map(({ kind, subject, limit }) => {
      const words = `${shortSubject(subject)} ${short[limit] ?? limitWords(limit)}`;
      return kind === 'counted' ? words : `${words}?`;
    });
}

function bookTitle({ type, data }: EntryLike): string {
  const moved = type === MOVED ? textIn(data, 'type') : undefined;
  return moved === undefined ? entryWords(type) : `${entryWords(moved)}, a step of its board`;
}

function noteOf({ data }: EntryLike): string[] {
  const note = textIn(data, 'note') ?? textIn(memberIn(data, 'signed'), 'note');
  return note === undefined || note === '' ? [] : [`note: ${note}`];
}

function bookDetails({ type, event, data }: EntryLike): string[] {
  if (type === ANNULLED) return [`strikes event ${event?.id ?? 'unknown'} of ${event?.source ?? 'nobody known'}`];
  if (type === REJUDGED) {
    const because = memberIn(data, 'because');
    const changes = memberIn(data, 'changes');
    const changed = Array.isArray(changes)
      ? changes.map((change) => textIn(memberIn(change, 'event'), 'id') ?? '?')
      : [];
    return [
      ...(Array.isArray(because) ? because.slice(0, MOST).map(occasionWords) : []),
      changed.length === 0
        ? 'no event is judged otherwise than before'
        : `judged otherwise than before: ${changed.slice(0, MOST).join(', ')}${changed.length > MOST ? ` and ${changed.length - MOST} more` : ''}`,
    ];
  }
  const meaning = textIn(memberIn(data, 'signature'), 'meaning');
  return meaning === undefined ? [] : [`signed: ${meaning}`];
}

function occasionWords(occasion: unknown): string {
  const trace = textIn(occasion, 'trace');
  if (trace !== undefined) return `because trace ${trace} came after its step`;
  const struck = textIn(memberIn(occasion, 'annulled'), 'id');
  if (struck !== undefined) return `because event ${struck} was struck`;
  return `because event ${textIn(occasion, 'id') ?? 'unknown'} was told late`;
}

/** Who made an entry: a station with its operator, a person by their printed name, or the book itself. */
export function actorInWords(actor: unknown, printedName?: string): string {
  const [kind, station, operator, name] = ['kind', 'station', 'operator', 'name'].map((key) => textIn(actor, key));
  if (kind === 'book') return 'the book itself';
  if (kind === 'person') return printedName === undefined ? (name ?? 'a person') : `${printedName} (${name ?? '?'})`;
  return [operator, station].filter((word) => word !== undefined).join(' at ') || 'unknown';
}
