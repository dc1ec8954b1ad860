import { compareText } from '../../domain/events/event-order.js';
import { foldedPath } from '../archives/archive-paths.js';
import { ARCHIVE_ENDS, ArchiveChunk, ArchivePart, ArchiveRecord, ArchiveUnit } from '../archives/archive-record.js';
import {
  ArchiveBounds,
  ArchiveClaim,
  ArchiveEnd,
  ArchiveFilter,
  ArchiveLost,
  ArchiveStep,
  ArchiveStore,
} from '../ports/archive-store.js';
import { Page, PageRequest } from '../ports/read-store.js';
import { roundTrip } from './round-trip.js';

/** An archive with everything that belongs to it. */
interface Kept {
  record: ArchiveRecord;
  claim: number;
  removed: boolean;
  units: ArchiveUnit[];
  parts: ArchivePart[];
  /** By number of part and of chunk, with a space between. */
  chunks: Map<string, ArchiveChunk>;
}

/** Archives in the memory of this process. */
export class MemoryArchiveStore implements ArchiveStore {
  readonly #kept = new Map<string, Kept>();

  async add(
    record: ArchiveRecord,
    units: readonly Pick<ArchiveUnit, 'assembly' | 'serial' | 'path'>[],
    bounds: ArchiveBounds,
  ): Promise<'added' | keyof ArchiveBounds> {
    await roundTrip();
    const there = this.#there().map(({ record: known }) => known);
    const own = there.filter(({ owner }) => owner.name === record.owner.name && owner.via === record.owner.via);
    if (own.filter((one) => !isOver(one)).length >= bounds.unfinished) return 'unfinished';
    if (own.length >= bounds.kept) return 'kept';
    const filled = there.filter(({ state }) => state !== 'failed' && state !== 'cancelled');
    if (filled.reduce((sum, { bytes }) => sum + bytes, 0) >= bounds.bytes) return 'bytes';
    this.#kept.set(record.id, {
      ...{ record: structuredClone(record), claim: 0, removed: false, parts: [], chunks: new Map() },
      units: units.map((unit, place) => ({ ...unit, place, outcome: null, count: null, headHash: null })),
    });
    return 'added';
  }

  async get(id: string): Promise<ArchiveRecord | undefined> {
    await roundTrip();
    return this.#there().find(({ record }) => record.id === id)?.record;
  }

  async list(filter: ArchiveFilter, { limit, cursor }: PageRequest): Promise<Page<ArchiveRecord>> {
    await roundTrip();
    const place = ({ requestedAt, id }: ArchiveRecord): string => `${requestedAt} ${id}`;
    if (cursor !== null && !/^\d{4}-\S+ \S+$/.test(cursor)) throw new RangeError('The cursor is not one of this list.');
    const rest = this.#there()
      .map(({ record }) => record)
      .filter(({ owner }) => filter === null || JSON.stringify(owner) === JSON.stringify(ownerOf(filter)))
      .filter((record) => cursor === null || compareText(place(record), cursor) < 0)
      .sort((a, b) => compareText(place(b), place(a)));
    const items = rest.slice(0, limit);
    const last = items.at(-1);
    return { items, next: rest.length > limit && last !== undefined ? place(last) : null };
  }

  async units(id: string, from: number, limit: number, missing?: 'missing'): Promise<readonly ArchiveUnit[]> {
    await roundTrip();
    const units = this.#kept.get(id)?.units ?? [];
    return units
      .filter(({ place, outcome }) => place >= from && (missing === undefined || outcome === missing))
      .slice(0, limit);
  }

  async claim(
    at: string,
    { triedBefore, seenBefore }: { readonly triedBefore: string; readonly seenBefore: string },
  ): Promise<{ readonly claim: ArchiveClaim; readonly record: ArchiveRecord } | undefined> {
    await roundTrip();
    const free = this.#there().filter(({ record: { state, attempts, seenAt } }) => {
      if (state === 'waiting') return attempts === 0 || seenAt < triedBefore;
      return state === 'running' && seenAt < seenBefore;
    });
    const order = ({ record }: Kept): string => `${record.requestedAt} ${record.id}`;
    const [kept] = free.sort((a, b) => compareText(order(a), order(b)));
    if (kept === undefined) return undefined;
    kept.claim += 1;
    kept.record = { ...kept.record, state: 'running', attempts: kept.record.attempts + 1, seenAt: at };
    for (const [key, { part }] of kept.chunks) if (part >= kept.record.parts) kept.chunks.delete(key);
    return { record: kept.record, claim: { id: kept.record.id, number: kept.claim } };
  }

  async seen(claim: ArchiveClaim, at: string): Promise<boolean> {
    await roundTrip();
    const kept = this.#held(claim);
    if (kept !== undefined) kept.record = { ...kept.record, seenAt: at };
    return kept !== undefined;
  }

  async keep(claim: ArchiveClaim, chunks: readonly ArchiveChunk[], at: string): Promise<void> {
    await roundTrip();
    const kept = this.#mine(claim);
    kept.record = { ...kept.record, seenAt: at };
    putChunks(kept, chunks);
  }

  async enter(claim: ArchiveClaim, { unit, parts, chunks, bytes }: ArchiveStep, at: string): Promise<void> {
    await roundTrip();
    const kept = this.#mine(claim);
    const { record } = kept;
    if (record.done !== unit.place) throw lost(claim);
    putParts(kept, parts, chunks);
    kept.units[unit.place] = { ...unitAt(kept, unit.place), ...unit };
    kept.record = {
      ...{
        ...kept.record,
        bytes,
        done: record.done + 1,
        missing: record.missing + (unit.outcome === 'missing' ? 1 : 0),
      },
      ...{ entries: record.entries + (unit.count ?? 0), attempts: 0, failure: null, seenAt: at },
    };
  }

  async finish(claim: ArchiveClaim, { parts, chunks, bytes, ...end }: ArchiveEnd, at: string): Promise<void> {
    await roundTrip();
    const kept = this.#mine(claim);
    if (kept.record.done !== kept.record.wanted) throw lost(claim);
    putParts(kept, parts, chunks);
    kept.record = { ...kept.record, ...end, bytes, state: 'done', failure: null, seenAt: at, finishedAt: at };
  }

  async release(claim: ArchiveClaim): Promise<void> {
    await roundTrip();
    const kept = this.#held(claim);
    if (kept === undefined) return;
    kept.record = { ...kept.record, state: 'waiting', attempts: Math.max(kept.record.attempts - 1, 0) };
  }

  async failed(claim: ArchiveClaim, why: string, at: string, expiresAt?: string): Promise<void> {
    await roundTrip();
    const kept = this.#held(claim);
    if (kept === undefined) return;
    const over = expiresAt === undefined ? { state: 'waiting' as const } : ended('failed', at, expiresAt);
    kept.record = { ...kept.record, failure: why, seenAt: at, ...over };
  }

  async cancel(id: string, at: string, expiresAt: string): Promise<'cancelled' | 'over' | 'not-found'> {
    await roundTrip();
    const kept = this.#there().find(({ record }) => record.id === id);
    if (kept === undefined) return 'not-found';
    if (isOver(kept.record)) return 'over';
    kept.record = { ...kept.record, ...ended('cancelled', at, expiresAt) };
    return 'cancelled';
  }

  async remove(id: string): Promise<void> {
    await roundTrip();
    const kept = this.#kept.get(id);
    if (kept !== undefined) kept.removed = true;
  }

  async removeExpired(at: string): Promise<number> {
    await roundTrip();
    const expired = this.#there().filter(({ record: { expiresAt } }) => expiresAt !== null && expiresAt <= at);
    for (const kept of expired) kept.removed = true;
    return expired.length;
  }

  async clear(mostChunks: number): Promise<number> {
    await roundTrip();
    for (const [id, kept] of this.#kept) {
      const { state } = kept.record;
      if (!kept.removed && state !== 'failed' && state !== 'cancelled') continue;
      const gone = [...kept.chunks.keys()].slice(0, mostChunks);
      for (const key of gone) kept.chunks.delete(key);
      if (gone.length < mostChunks) kept.parts = [];
      if (gone.length < mostChunks && kept.removed) this.#kept.delete(id);
      if (gone.length > 0) return gone.length;
    }
    return 0;
  }

  async parts(id: string, from: number, limit: number): Promise<readonly ArchivePart[]> {
    await roundTrip();
    return (this.#kept.get(id)?.parts ?? []).filter(({ number }) => number >= from).slice(0, limit);
  }

  async partAt(id: string, offset: number): Promise<ArchivePart | undefined> {
    await roundTrip();
    return this.#kept.get(id)?.parts.findLast((part) => part.offset <= offset);
  }

  async partFolded(id: string, folded: string): Promise<ArchivePart | undefined> {
    await roundTrip();
    return this.#kept.get(id)?.parts.find(({ name }) => foldedPath(name) === folded);
  }

  async chunk(id: string, part: number, number: number): Promise<Uint8Array | undefined> {
    await roundTrip();
    return this.#kept.get(id)?.chunks.get(chunkKey({ part, number }))?.bytes;
  }

  #there(): Kept[] {
    return [...this.#kept.values()].filter(({ removed }) => !removed);
  }

  #held({ id, number }: ArchiveClaim): Kept | undefined {
    return this.#there().find((kept) => {
      return kept.record.id === id && kept.claim === number && kept.record.state === 'running';
    });
  }

  #mine(claim: ArchiveClaim): Kept {
    const kept = this.#held(claim);
    if (kept === undefined) throw lost(claim);
    return kept;
  }
}

function ended(state: 'failed' | 'cancelled', finishedAt: string, expiresAt: string) {
  return { state, finishedAt, expiresAt };
}

function isOver({ state }: ArchiveRecord): boolean {
  return ARCHIVE_ENDS.includes(state);
}

function ownerOf({ name, via, customer }: NonNullable<ArchiveFilter>): ArchiveRecord['owner'] {
  return { name, via, customer };
}

function unitAt({ units }: Kept, place: number): ArchiveUnit {
  const unit = units[place];
  if (unit === undefined) throw new Error(`the archive has no unit ${String(place)}`);
  return unit;
}

function putParts(kept: Kept, parts: readonly ArchivePart[], chunks: readonly ArchiveChunk[]): void {
  const names = new Set([...kept.parts, ...parts].map(({ name }) => foldedPath(name)));
  if (names.size < kept.parts.length + parts.length) throw new Error('two files of the archive would have one name');
  kept.parts.push(...parts);
  putChunks(kept, chunks);
  const contentBytes = parts.reduce((sum, { bytes }) => sum + bytes, kept.record.contentBytes);
  kept.record = { ...kept.record, parts: kept.parts.length, contentBytes };
}

function putChunks(kept: Kept, chunks: readonly ArchiveChunk[]): void {
  for (const chunk of chunks) {
    if (kept.chunks.has(chunkKey(chunk))) throw new Error(`chunk ${chunkKey(chunk)} is there already`);
    kept.chunks.set(chunkKey(chunk), { ...chunk, bytes: chunk.bytes.slice() });
  }
}

function chunkKey({ part, number }: Pick<ArchiveChunk, 'part' | 'number'>): string {
  return `${String(part)} ${String(number)}`;
}

function lost({ id }: ArchiveClaim): ArchiveLost {
  return new ArchiveLost(`archive ${id} was cancelled, or somebody else has it`);
}
