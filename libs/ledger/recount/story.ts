import { devicesAboard } from '../../domain/book/reach.js';
import { STATION_EVENT_TYPES } from '../../domain/events/station-event.js';
import { deviceKey, StreamKey, Subject, unitKey } from '../../domain/subject/subject.js';
import { ClearanceRecord, reachOf } from '../clearances/clearance-record.js';
import { BOOK_ENTRY_TYPES, BookEffect } from '../fold/book-effect.js';
import { SubjectRecord } from '../ports/book-store.js';
import { SealedEntry } from '../ports/seal.js';
import { ledgerPages } from './ledger-pages.js';
import { LedgerWalk } from './ledger-walk.js';
import { RecountWork } from './recount-work.js';

/** Ledgers that only together say how their subjects stand, with what is kept of these. */
export interface Story {
  readonly keys: readonly StreamKey[];
  readonly records: ReadonlyMap<StreamKey, SubjectRecord>;
  /** For these subjects, or reserving something of them. */
  readonly clearances: readonly ClearanceRecord[];
  /** By ledger and sequence; without what stations said, which nothing here is worked out from. */
  readonly entries: readonly SealedEntry[];
}

/**
 * Reads the ledgers of these keys, and of every device and unit that they, the states of their subjects or clearances lead
 * to, and follows their chains.
 */
export async function readStory(
  work: RecountWork,
  keys: readonly StreamKey[],
  known: readonly SubjectRecord[] = [],
): Promise<Story> {
  const records = new Map(known.map((record) => [record.key, record]));
  const clearances = new Map<string, ClearanceRecord>();
  const entries: SealedEntry[] = [];
  const reached = new Set<StreamKey>();
  const walk = new LedgerWalk(work);
  for (let wanted = [...new Set(keys)]; wanted.length > 0;) {
    for (const key of wanted) reached.add(key);
    const missing = wanted.filter((key) => !records.has(key));
    if (missing.length > 0) for (const one of await work.reads.subjectsOf(missing)) records.set(one.key, one);
    const links = new Set(wanted.flatMap((key) => linksOfState(records.get(key))));
    for (const clearance of await work.reads.clearances(wanted)) {
      clearances.set(clearance.id, clearance);
      for (const key of reachOf(clearance)) links.add(key);
    }
    for await (const page of ledgerPages(work.reads, wanted)) {
      for (const kept of page) {
        const entry = walk.take(kept);
        if (entry === undefined) continue;
        entries.push(slim(entry));
        for (const link of linksOfEntry(entry)) links.add(link);
      }
    }
    for (const key of wanted) walk.end(key, records.get(key));
    wanted = [...links].filter((key) => !reached.has(key));
  }
  return { keys: [...reached], records, clearances: [...clearances.values()], entries };
}

const SAID: ReadonlySet<string> = new Set(STATION_EVENT_TYPES);

function slim(entry: SealedEntry): SealedEntry {
  return SAID.has(entry.type) ? { ...entry, data: {} } : entry;
}

/** Where a state leads: to devices that were looked at as well, of which the effects need not say anything. */
export function linksOfState(record: SubjectRecord | undefined): readonly StreamKey[] {
  const subject = record?.state;
  if (subject?.kind === 'unit') return [...subject.state.devicesSeen, ...devicesAboard(subject.state)].map(deviceKey);
  return subject?.kind === 'device' ? subject.state.unitsSeen : [];
}

function linksOfEntry(entry: SealedEntry): readonly StreamKey[] {
  const effects = entry.effects as readonly BookEffect[];
  const links = effects.flatMap(linksOfEffect);
  if (entry.type !== BOOK_ENTRY_TYPES.deviceMoved) return links;
  return [...links, (entry.data as { readonly entry: { readonly subject: StreamKey } }).entry.subject];
}

function linksOfEffect(effect: BookEffect): readonly StreamKey[] {
  switch (effect.kind) {
    case 'counted':
    case 'possible':
    case 'clear':
    case 'prior':
      return boardOrDevice(effect.subject);
    case 'mounted':
    case 'device-opened':
      return [
        deviceKey(effect.device),
        ...(effect.place === null ? [] : [unitKey(effect.place.assembly, effect.place.serial)]),
      ];
    case 'device-named':
      return [deviceKey(effect.device), deviceKey(effect.formerly)];
    default:
      return 'device' in effect ? [deviceKey(effect.device)] : [];
  }
}

function boardOrDevice(subject: Subject): readonly StreamKey[] {
  return [subject.kind === 'device' ? deviceKey(subject.device) : unitKey(subject.assembly, subject.serial)];
}
