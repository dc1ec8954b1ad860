import { compareText, refKey } from '../../domain/events/event-order.js';
import { StreamKey, unitKey } from '../../domain/subject/subject.js';
import { isFact, marksOf } from '../containment/marks-of.js';
import { Interval, microTime, within } from '../containment/suspect-cause.js';
import { BOOK_ENTRY_TYPES } from '../fold/book-effect.js';
import { SubjectRecord } from '../ports/book-store.js';
import { FactRow, LedgerSearch, MarkWish, Whereabouts } from '../ports/ledger-search.js';
import { entryOf, SealedEntry } from '../ports/seal.js';
import { MemoryTables } from './memory-tables.js';
import { roundTrip } from './round-trip.js';
import { readSubject } from './stored-rows.js';

/** Looks through every entry that is committed in memory. */
export class MemoryLedgerSearch implements LedgerSearch {
  readonly #tables: MemoryTables;

  constructor(tables: MemoryTables) {
    this.#tables = tables;
  }

  async factsMarked(wish: MarkWish, interval: Interval, limit: number): Promise<readonly FactRow[]> {
    await roundTrip();
    const fits = (mark: string): boolean => ('mark' in wish ? mark === wish.mark : mark.startsWith(wish.prefix));
    return this.#facts(interval)
      .filter((entry) => marksOf(entry).marks.some(fits))
      .slice(0, limit)
      .flatMap(({ subject, seq, type, time, event }) =>
        event === null ? [] : [{ subject, seq, type, at: microTime(time), event }],
      );
  }

  async ledgersMarked(marks: readonly string[], limit: number): Promise<readonly StreamKey[]> {
    await roundTrip();
    const wanted = new Set(marks);
    const marked = this.#entries().filter((entry) => marksOf(entry).marks.some((mark) => wanted.has(mark)));
    return [...new Set(marked.map(({ subject }) => subject))].slice(0, limit);
  }

  async factsWithin(
    interval: Interval,
    { after, limit }: { after: { subject: StreamKey; seq: number } | null; limit: number },
  ): Promise<readonly SealedEntry[]> {
    await roundTrip();
    const isAfter = ({ subject, seq }: SealedEntry): boolean =>
      after === null || (compareText(subject, after.subject) || seq - after.seq) > 0;
    return this.#facts(interval).filter(isAfter).slice(0, limit);
  }

  async entriesOf(keys: readonly StreamKey[]): Promise<readonly SealedEntry[]> {
    await roundTrip();
    const wanted = new Set(keys);
    return this.#entries().filter(({ subject }) => wanted.has(subject));
  }

  async subjectsOf(keys: readonly StreamKey[]): Promise<readonly SubjectRecord[]> {
    await roundTrip();
    const rows = [...new Set(keys)].sort(compareText).map((key) => this.#tables.ledgers.get(key));
    return rows.flatMap((row) => (row === undefined ? [] : [readSubject(row)]));
  }

  async whereabouts(keys: readonly StreamKey[]): Promise<readonly Whereabouts[]> {
    const records = await this.subjectsOf(keys);
    return records.flatMap(({ key, state }): Whereabouts[] => {
      if (state?.kind !== 'device') return [];
      const { status, place } = state.state;
      return [{ key, status, unit: place === null ? null : unitKey(place.assembly, place.serial) }];
    });
  }

  async signedInClear(by: string): Promise<number> {
    await roundTrip();
    return this.#entries().filter(({ data }) => isSignedInClear(data, by)).length;
  }

  /** By ledger and sequence. */
  #entries(): SealedEntry[] {
    const rows = [...this.#tables.ledgers.values()].sort((a, b) => compareText(a.key, b.key));
    return rows.flatMap(({ entries }) => entries.map(entryOf));
  }

  #facts(interval: Interval): SealedEntry[] {
    const all = this.#entries();
    const struck = new Set(
      all.flatMap(({ type, event }) => (type === BOOK_ENTRY_TYPES.annulled && event !== null ? [refKey(event)] : [])),
    );
    return all.filter(
      (entry) =>
        entry.event !== null &&
        isFact(entry) &&
        within(interval, microTime(entry.time)) &&
        !struck.has(refKey(entry.event)),
    );
  }
}

function isSignedInClear(data: unknown, by: string): boolean {
  if (typeof data !== 'object' || data === null || !('signature' in data)) return false;
  const { signature } = data;
  if (typeof signature !== 'object' || signature === null || !('by' in signature)) return false;
  return signature.by === by && 'printedName' in signature;
}
