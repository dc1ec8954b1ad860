import { EntryBytes, SealedEntry } from '../ledger/ports/seal.js';

export type EntryRow = EntryBytes;

/** The stored bytes are what the hash is over, so the entry is read from them and from nothing else. */
export function toEntry({ hash, bytes }: EntryRow): SealedEntry {
  return { ...(JSON.parse(bytes) as Omit<SealedEntry, 'hash'>), hash };
}
