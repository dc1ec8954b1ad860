import { ArchiveChunk, ArchiveOwner, ArchivePart, ArchiveRecord, ArchiveUnit } from '../archives/archive-record.js';
import { Page, PageRequest } from './read-store.js';

/** How many archives there may be. */
export interface ArchiveBounds {
  /** Of the owner: not ended, and all. */
  readonly unfinished: number;
  readonly kept: number;
  /** Of everybody. */
  readonly bytes: number;
}

/**
 * The right to work on an archive. Whoever claims it later has a higher number, and what is written under a lower one is
 * refused: a worker that was taken for dead can spoil nothing.
 */
export interface ArchiveClaim {
  readonly id: string;
  readonly number: number;
}

/** A unit that is settled, with the files that came of it. All of it is there or nothing. */
export interface ArchiveStep {
  readonly unit: Pick<ArchiveUnit, 'place' | 'outcome' | 'count' | 'headHash'>;
  readonly parts: readonly ArchivePart[];
  /** Chunks of these parts that were not kept before. */
  readonly chunks: readonly ArchiveChunk[];
  /** The archive after it. */
  readonly bytes: number;
}

/** The last files of an archive. */
export interface ArchiveEnd extends Pick<ArchiveStep, 'parts' | 'chunks' | 'bytes'> {
  readonly manifestHash: string;
  /** RFC 3339 UTC. */
  readonly expiresAt: string;
}

/** Whose archives: everybody's where nothing is said. */
export type ArchiveFilter = ArchiveOwner | null;

/** The claim is no longer good: somebody else has the archive, or it was cancelled. */
export class ArchiveLost extends Error {
  override readonly name = 'ArchiveLost';
}

/** Archives that were asked for, what is made of them so far, and their bytes. Times are RFC 3339 UTC. */
export interface ArchiveStore {
  /**
   * Keeps a request; `units` by place from 0.
   * @returns what there is too much of: then nothing is kept. Of several at once no more are kept than may be.
   */
  add(
    record: ArchiveRecord,
    units: readonly Pick<ArchiveUnit, 'assembly' | 'serial' | 'path'>[],
    bounds: ArchiveBounds,
  ): Promise<'added' | keyof ArchiveBounds>;
  get(id: string): Promise<ArchiveRecord | undefined>;
  /** Newest first. */
  list(filter: ArchiveFilter, page: PageRequest): Promise<Page<ArchiveRecord>>;
  /** Units from a place on, in order, at most `limit`; or only those that are missing. */
  units(id: string, from: number, limit: number, missing?: 'missing'): Promise<readonly ArchiveUnit[]>;

  /**
   * Takes the archive that has waited longest: one that nobody works on, was never tried or last before `triedBefore`, or
   * whose worker was last seen before `seenBefore`. What was written of a unit that was not settled is gone.
   */
  claim(
    at: string,
    before: { readonly triedBefore: string; readonly seenBefore: string },
  ): Promise<{ readonly claim: ArchiveClaim; readonly record: ArchiveRecord } | undefined>;
  /** Says that somebody works on it. @returns whether the claim is still good */
  seen(claim: ArchiveClaim, at: string): Promise<boolean>;
  /** Keeps chunks of parts that are not entered yet, at least one, and says that somebody works on it. @throws ArchiveLost */
  keep(claim: ArchiveClaim, chunks: readonly ArchiveChunk[], at: string): Promise<void>;
  /** @throws ArchiveLost */
  enter(claim: ArchiveClaim, step: ArchiveStep, at: string): Promise<void>;
  /** @throws ArchiveLost */
  finish(claim: ArchiveClaim, end: ArchiveEnd, at: string): Promise<void>;
  /** Lets go of it, to be taken up again at once. Does nothing under a claim that is no longer good. */
  release(claim: ArchiveClaim): Promise<void>;
  /** The attempt came to nothing; `expiresAt` where it was the last. Does nothing under a claim that is no longer good. */
  failed(claim: ArchiveClaim, why: string, at: string, expiresAt?: string): Promise<void>;

  /** @returns `over` where it had ended already */
  cancel(id: string, at: string, expiresAt: string): Promise<'cancelled' | 'over' | 'not-found'>;
  /** From now on there is no such archive. Its bytes go with `clear`. */
  remove(id: string): Promise<void>;
  /** Removes all that have expired. @returns how many */
  removeExpired(at: string): Promise<number>;
  /**
   * Gives back space: of archives that were removed, or ended without being done, at most `mostChunks` chunks.
   * @returns how many; none where there is nothing left to give back
   */
  clear(mostChunks: number): Promise<number>;

  /** Parts from a number on, in order, at most `limit`. */
  parts(id: string, from: number, limit: number): Promise<readonly ArchivePart[]>;
  /** The last part that begins at this place in the archive or before. */
  partAt(id: string, offset: number): Promise<ArchivePart | undefined>;
  /** The part whose name, in small letters, is this one. */
  partFolded(id: string, folded: string): Promise<ArchivePart | undefined>;
  /** Undefined also where the archive was removed in the meantime. */
  chunk(id: string, part: number, number: number): Promise<Uint8Array | undefined>;
}
