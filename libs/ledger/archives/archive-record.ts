/** `done`, `failed` and `cancelled` are ends; nothing leads out of them. */
export type ArchiveState = 'waiting' | 'running' | 'done' | 'failed' | 'cancelled';

export const ARCHIVE_ENDS: readonly ArchiveState[] = ['done', 'failed', 'cancelled'];

/** Who asked for an archive. A person and a key may have one name, and a person may move to another customer. */
export interface ArchiveOwner {
  readonly name: string;
  readonly via: 'key' | 'session';
  /** Whose units it may show; null where the house asked. */
  readonly customer: string | null;
}

/** Histories of many units as one file: what was asked for, and how far it is. */
export interface ArchiveRecord {
  readonly id: string;
  readonly owner: ArchiveOwner;
  /** Names of formats, each once, sorted. */
  readonly formats: readonly string[];
  /** Sizes of checkpoints that the reader kept. */
  readonly since: readonly number[];
  readonly state: ArchiveState;
  /** Units asked for. */
  readonly wanted: number;
  /** Units that are settled: written, or found missing. The place of the next one, counted from 0. */
  readonly done: number;
  readonly missing: number;
  /** Entries of the units' own ledgers in it. */
  readonly entries: number;
  /** Files in it. */
  readonly parts: number;
  /** Their bytes as they were before they were packed. */
  readonly contentBytes: number;
  /** Of the archive: so far, and once it is done, as it is downloaded. */
  readonly bytes: number;
  /** Lower-case hex SHA-256 of its manifest; null until it is done. */
  readonly manifestHash: string | null;
  /** Why the last attempt came to nothing; null once something came of one. */
  readonly failure: string | null;
  /** Attempts since the last unit that was settled. */
  readonly attempts: number;
  /** RFC 3339 UTC. */
  readonly requestedAt: string;
  /** Whoever makes it said so at this time. */
  readonly seenAt: string;
  readonly finishedAt: string | null;
  /** When it is removed; null until it has ended. */
  readonly expiresAt: string | null;
}

export interface ArchiveUnitName {
  readonly assembly: string;
  readonly serial: string;
}

/** A unit of an archive. */
export interface ArchiveUnit extends ArchiveUnitName {
  /** From 0. */
  readonly place: number;
  /** Name of its files without their extension. */
  readonly path: string;
  /** `missing`: unknown, or not theirs who asked; which of the two is not told. */
  readonly outcome: 'written' | 'missing' | null;
  /** Entries of its ledger, and the hash of the last, as they are in the archive; null unless written. */
  readonly count: number | null;
  readonly headHash: string | null;
}

/** A file of an archive. */
export interface ArchivePart {
  /** From 0, in the order in which they stand. */
  readonly number: number;
  readonly name: string;
  /** As ZIP has it: CRC-32 (ISO 3309) of the content. */
  readonly crc32: number;
  /** Bytes of the content, and of what it was deflated to. */
  readonly bytes: number;
  readonly packedBytes: number;
  /** Where its header begins in the archive. */
  readonly offset: number;
  /** Lower-case hex, of the content. */
  readonly sha256: string;
}

/** A piece of a part's packed content: each but the last of a part is `CHUNK_BYTES` long. */
export interface ArchiveChunk {
  /** Number of the part. */
  readonly part: number;
  /** From 0. */
  readonly number: number;
  readonly bytes: Uint8Array;
}

export const CHUNK_BYTES = 1_048_576;
