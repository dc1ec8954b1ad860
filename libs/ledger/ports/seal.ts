/** A value that JSON can carry. */
export type JsonValue = null | boolean | number | string | JsonValue[] | { [key: string]: JsonValue };

/** An entry of a ledger before it is sealed. Times are RFC 3339; what is `unknown` here must have a canonical form. */
export interface EntryBody {
  /** Stream key: 'ASSEMBLY/SERIAL', 'devices/D' or 'stations/S'. */
  subject: string;
  /** Place in the stream: 1, 2, 3 and so on without gap. */
  seq: number;
  /** Type of the station event, or of the book's own entry ('heatbook.entry.rejudged.v1'). */
  type: string;
  /** When it happened, with offset. */
  time: string;
  /** When it was written into the book, UTC. */
  recordedAt: string;
  /** The station event behind it; null where the book wrote by itself or for a person. */
  event: { source: string; id: string } | null;
  /** Who did it. */
  actor: unknown;
  /** What was said. */
  data: unknown;
  /** What the fold judged from it. */
  effects: readonly unknown[];
  /** Setup version it was judged under. */
  rules: number;
}

/** An entry with its place in the chain. Both hashes are lower-case hex SHA-256. */
export type SealedEntry = EntryBody & { prevHash: string; hash: string };

/** An entry as it is stored and handed out: the canonical form of its body with `prevHash`, and the hash over that. */
export interface EntryBytes {
  readonly bytes: string;
  /** Lower-case hex SHA-256. */
  readonly hash: string;
}

/** The stored bytes are what the hash is over, so an entry is read from them and from nothing else. */
export function entryOf({ bytes, hash }: EntryBytes): SealedEntry {
  return { ...(JSON.parse(bytes) as Omit<SealedEntry, 'hash'>), hash };
}

/** What the first entry of a ledger names as its predecessor. */
export const GENESIS_HASH = '0'.repeat(64);

/** Turns entries into bytes and hashes that another program can reproduce. */
export interface Seal {
  /**
   * RFC 8785 canonical form as text (its bytes are the UTF-8 of it). Members that are undefined are left out, as JSON
   * does. Throws on values without a canonical form: non-finite numbers, lone surrogates, bigints, cycles.
   */
  canonical(value: unknown): string;
  /** Lower-case hex SHA-256 of bytes, or of the UTF-8 bytes of a text. */
  sha256Hex(content: string | Uint8Array): string;
  /**
   * Seals an entry after the entry whose hash is `prevHash` (GENESIS_HASH for the first). `bytes` is what is stored:
   * the canonical form of the body with `prevHash`; `hash` is the SHA-256 over it. What else a body may carry is left out.
   * Throws like `canonical`.
   */
  sealEntry(body: EntryBody, prevHash: string): { bytes: string; hash: string };
}
