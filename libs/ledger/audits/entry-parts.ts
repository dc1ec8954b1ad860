import { EntryBody, EntryBytes, SealedEntry } from '../ports/seal.js';

/**
 * Parts of an entry that are read from its canonical text without parsing all of it: parsing, and writing anew what was
 * parsed, was most of what a long export cost. The members of an entry stand in order of name: actor, data, effects, event,
 * prevHash, recordedAt, rules, seq, subject, time, type.
 */

/** What stands behind `effects`. */
export type EntryEnd = Pick<SealedEntry, 'event' | 'prevHash' | 'rules' | 'seq' | 'subject'> & {
  /** Where `,"prevHash":` of the entry itself begins; null where it was not looked for, since the end is an unusual one. */
  readonly prevHashAt: number | null;
};

/** An entry as it is stored, with the part of it that has been read. */
export interface AuditEntry extends EntryBytes {
  readonly end: EntryEnd;
}

/** What an entry names is found in these. */
export type NamingParts = Pick<EntryBody, 'event' | 'data' | 'rules'>;

const EFFECTS = ',"effects":';
const EVENT = ',"event":';
const PREV_HASH = ',"prevHash":';
const PLAIN = '[^"\\\\]*';
/**
 * Opens no brace that it does not close, and goes on to the one that closes the entry: so these are members of the entry
 * itself, not of something in it. Names with escapes are left to the parser.
 */
const END = new RegExp(
  `${EVENT}(?:null|\\{"id":"(${PLAIN})","source":"(${PLAIN})"\\})${PREV_HASH}"([0-9a-f]{64})","recordedAt":"${PLAIN}",` +
    `"rules":(\\d+),"seq":(\\d+),"subject":"(${PLAIN})","time":"${PLAIN}","type":"${PLAIN}"\\}$`,
  'y',
);

/** @throws SyntaxError where the bytes are no JSON, as far as they were looked at */
export function entryEnd(bytes: string): EntryEnd {
  // The last one: none can be in what comes behind it.
  END.lastIndex = Math.max(0, bytes.lastIndexOf(EVENT));
  const found = END.exec(bytes);
  if (found === null) return { ...parsed(bytes), prevHashAt: null };
  const [, id, source, prevHash = '', rules, seq, subject = ''] = found;
  const event = id === undefined || source === undefined ? null : { id, source };
  const prevHashAt = bytes.lastIndexOf(PREV_HASH);
  return { event, prevHash, rules: Number(rules), seq: Number(seq), subject, prevHashAt };
}

/** Leaves what the fold judged unread: `effects` are most of an entry on a heat. */
export function namingParts({ bytes, end }: Pick<AuditEntry, 'bytes' | 'end'>): NamingParts {
  const { event, rules, prevHashAt } = end;
  return { event, rules, data: (prevHashAt === null ? parsed(bytes) : beforeEffects(bytes)).data };
}

/** Actor and data, or the whole entry where it is not certain that they are all that comes before `effects`. */
function beforeEffects(bytes: string): Pick<EntryBody, 'data'> {
  const to = bytes.indexOf(EFFECTS);
  try {
    // Where it is a member of something in the data, that is left open, and what comes before it is no JSON.
    if (to !== -1) return JSON.parse(`${bytes.slice(0, to)}}`) as Pick<EntryBody, 'data'>;
  } catch {
    // As said.
  }
  return parsed(bytes);
}

function parsed(bytes: string): Omit<SealedEntry, 'hash'> {
  return JSON.parse(bytes) as Omit<SealedEntry, 'hash'>;
}
