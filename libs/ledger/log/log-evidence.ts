import { SealedEntry } from '../ports/seal.js';

/** The ledger in which the book writes about itself: its keys and its censuses. No name may hold a tilde, so it is no unit. */
export const BOOK_STREAM = '~book';

/** An entry by its place: what the site-wide log has as one leaf. */
export interface LedgerPlace {
  /** Stream key. */
  readonly subject: string;
  readonly seq: number;
  /** Lower-case hex SHA-256 of the entry. Its 32 bytes are the data of the leaf. */
  readonly hash: string;
}

/** That an entry is in the log of the checkpoint beside it (RFC 6962, section 2.1.1). */
export interface InclusionProof extends LedgerPlace {
  /** Number of the leaf, from 0. */
  readonly index: number;
  /** Lower-case hex, from the leaf up. */
  readonly path: readonly string[];
}

/** That the log of `from` entries is the beginning of the log of `to` entries (RFC 6962, section 2.1.2). */
export interface ConsistencyProof {
  readonly from: number;
  readonly to: number;
  /** Lower-case hex. */
  readonly path: readonly string[];
}

/** A key that checkpoints are or were signed with. */
export interface LogKey {
  /** Verifier key of a signed note (C2SP signed-note): `{name}+{key id, 8 hex digits}+{base64 of 0x01 and the Ed25519 key}`. */
  readonly vkey: string;
  /** RFC 3339 UTC. */
  readonly since: string;
  /**
   * A signed note by the key before it, whose text names this one; null for the first key, and where the key before it
   * was lost.
   */
  readonly endorsement: string | null;
}

/**
 * That a ledger was in a census. A census is an entry of the book's own ledger. It names the root of a tree over groups,
 * in order of name: one for each assembly, `devices`, `stations` and `~book`. A group's leaf is the canonical form of
 * `{group, ledgers, entries, root}`; its `root` is that of a tree over its ledgers in order of key, whose leaves are the
 * canonical forms of `{subject, seq, hash}`: the last entry of each. Both trees are hashed as in RFC 6962.
 */
export interface CensusProof {
  /** The census as the book's ledger has it; its data are a `CensusData`. */
  readonly entry: SealedEntry;
  readonly inclusion: InclusionProof;
  readonly group: CensusGroup;
  /** Place of the group in the tree of groups, from 0, and the way to its root, lower-case hex. */
  readonly groupIndex: number;
  readonly groupPath: readonly string[];
  /** What the census says of the ledger. */
  readonly ledger: LedgerPlace;
  readonly ledgerIndex: number;
  readonly ledgerPath: readonly string[];
}

export interface CensusGroup {
  readonly group: string;
  readonly ledgers: number;
  readonly entries: number;
  /** Lower-case hex. */
  readonly root: string;
}

/** What a census says, as `data` of its entry. */
export interface CensusData {
  /** The day, `YYYY-MM-DD` in UTC. */
  readonly day: string;
  /** Entries that the log had; the census is over the last entry of each ledger among them. */
  readonly size: number;
  /** Root of the log of that size, lower-case hex. */
  readonly logRoot: string;
  readonly groups: number;
  readonly ledgers: number;
  readonly entries: number;
  /** Of the tree over groups, lower-case hex. */
  readonly root: string;
}

/** What an export carries of the site-wide log. */
export interface LogEvidence {
  /** Name of the log, first line of each of its checkpoints. */
  readonly origin: string;
  /** Signed checkpoint (C2SP tlog-checkpoint) as text; every proof here ends at its root. */
  readonly checkpoint: string;
  /** Oldest first. */
  readonly keys: readonly LogKey[];
  /** For each ledger of the export its newest entry that the log has: the chain of hashes vouches for those before it. */
  readonly inclusion: readonly InclusionProof[];
  readonly consistency: readonly ConsistencyProof[];
  /** Censuses that the unit's ledger was in, oldest first: at most the 31 newest of those where its head was another. */
  readonly censuses: readonly CensusProof[];
  /** Older ones that are left out. */
  readonly censusesLeftOut: number;
}
