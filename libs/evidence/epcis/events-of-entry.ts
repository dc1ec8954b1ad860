import { SealedEntry } from '../../ledger/ports/seal.js';
import { statementsOf } from './entry-statements.js';
import { EpcisEvent, EpcisStatement } from './epcis-event.js';
import { capitalTime, epcisTime } from './epcis-time.js';
import { eventId } from './event-id.js';
import { HouseUris } from './house-uris.js';
import { inOwnTerms } from './own-terms.js';
import { stationOf } from './told-event.js';

/** That an event is struck: when it was, and why in the words of whoever signed it. */
export interface Struck {
  /** RFC 3339. */
  readonly at: string;
  readonly note: string | null;
  /** The entry that strikes it. */
  readonly seq: number;
  readonly hash: string;
}

/**
 * The events of an entry: dated, numbered, and with the place of the entry in its ledger.
 * @param struck makes of them the error declarations of the same events
 */
export function eventsOfEntry(entry: SealedEntry, uris: HouseUris, struck?: Struck): readonly EpcisEvent[] {
  return statementsOf(entry, uris).map((statement, place) => ({
    eventID: eventId(entry.hash, place),
    ...epcisTime(entry.time),
    recordTime: capitalTime(entry.recordedAt),
    ...(struck !== undefined && { errorDeclaration: declared(struck) }),
    ...statement.facts,
    ...whereOf(entry, statement, uris),
    ...statement.own,
    'heatbook:entry': inOwnTerms(placeOf(entry)),
    'heatbook:actor': inOwnTerms(entry.actor),
  }));
}

function placeOf({ subject, seq, hash, type, event }: SealedEntry): object {
  return { ledger: subject, seq, hash, type, event: event ?? undefined };
}

function whereOf(
  entry: SealedEntry,
  { stays }: EpcisStatement,
  uris: HouseUris,
): Pick<EpcisEvent, 'readPoint' | 'bizLocation'> {
  const station = stationOf(entry);
  if (station === undefined) return {};
  const id = uris.station(station);
  return { readPoint: { id }, ...(stays && { bizLocation: { id } }) };
}

/** Without a reason of CBV: the book does not tell whether it never happened or was told wrongly. */
function declared({ at, note, seq, hash }: Struck): NonNullable<EpcisEvent['errorDeclaration']> {
  return {
    declarationTime: capitalTime(at),
    ...(note !== null && { 'heatbook:note': note }),
    'heatbook:entry': inOwnTerms({ seq, hash }),
  };
}
