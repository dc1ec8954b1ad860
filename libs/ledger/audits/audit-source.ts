import { StreamKey } from '../../domain/subject/subject.js';
import { LogEvidence } from '../log/log-evidence.js';
import { SealedEntry } from '../ports/seal.js';
import { StoredRevision } from '../ports/setup-store.js';
import { StoredTrace, TraceFacts } from '../ports/trace-store.js';
import { UnitView } from '../views/unit-view.js';
import { HoldView } from '../views/hold-view.js';
import { AuditEntry } from './entry-parts.js';

/** Whom an export is for: a customer gets what is theirs, and is told what is left out. */
export interface AuditAudience {
  readonly for: 'house' | 'customer';
  /** In words; empty for the house. */
  readonly leftOut: readonly string[];
}

/** A ledger of an export; entries are read again from their beginning each time, a page at a time. */
export interface AuditLedger {
  readonly subject: StreamKey;
  /** Number of entries in the book, and hash of the last one, when the export was opened: later ones are left out. */
  readonly count: number;
  readonly headHash: string;
  /** From 1 to `count`. @throws Error where the book has fewer than it says: an export that ends early must not look whole */
  entries(): AsyncIterable<SealedEntry>;
  /** The same entries as they are stored, page by page. @throws as `entries` */
  pages(): AsyncIterable<readonly AuditEntry[]>;
}

/** A trace that steps of the unit name. */
export type AuditTrace = TraceFacts;

/**
 * Who stands behind a commitment that a signature holds. `commitment` is the SHA-256 of the canonical form of
 * `{name, printedName, salt}`. After an erasure `printedName` and `salt` are null, and nobody can tell any more.
 */
export interface AuditPerson {
  /** Lower-case hex. */
  readonly commitment: string;
  /** Of the account. */
  readonly name: string;
  readonly printedName: string | null;
  /** Lower-case hex, 32 bytes. */
  readonly salt: string | null;
}

/** What an export says besides its entries; read when it is opened. */
export interface AuditFacts {
  readonly assembly: string;
  readonly serial: string;
  /** RFC 3339 UTC. */
  readonly exportedAt: string;
  readonly audience: AuditAudience;
  readonly unit: UnitView;
  /** Every hold on the unit, its sites and the devices aboard that the reader may see, whatever its state. */
  readonly holds: readonly HoldView[];
  /** The revisions of the setup that its entries were judged by. */
  readonly configuration: readonly StoredRevision[];
  readonly traces: readonly AuditTrace[];
  readonly people: readonly AuditPerson[];
  /** Null where the log has no signed checkpoint yet. */
  readonly log: LogEvidence | null;
}

/** One unit's history, as every format is made from it. */
export interface AuditSource extends AuditFacts {
  readonly ledger: AuditLedger;
  /** Ledgers of the devices that were on it, by name; none for a customer. */
  readonly devices: readonly (AuditLedger & { readonly device: string })[];
  /** The text of a trace of this export. */
  trace(name: string): Promise<StoredTrace | undefined>;
}
