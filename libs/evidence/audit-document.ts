import { GENESIS_HASH, type JsonValue, type SealedEntry } from '../ledger/ports/seal.js';
import { canonicalJson } from './canonical-json.js';
import { sha256Hex } from './seal.js';

export const AUDIT_FORMAT = 'heatbook-audit';
export const AUDIT_VERSION = 1;

/** A ledger with what the book says of its length and end, so that a list read only in part is noticed. */
export interface LedgerExtract {
  /** Ascending by seq, from 1 without gap. */
  entries: SealedEntry[];
  /** Number of entries in the book. */
  count: number;
  /** Hash of the last entry in the book; GENESIS_HASH for an empty ledger. */
  headHash: string;
}

/** What an export of one unit is made of. `unit` and `configuration` are carried as they are. */
export interface AuditParts extends LedgerExtract {
  assembly: string;
  serial: string;
  /** RFC 3339. */
  exportedAt: string;
  /** The unit as the book sees it at `exportedAt`. */
  unit: JsonValue;
  /** The revisions of the setup that its entries were judged by. */
  configuration: JsonValue;
  /** Ledgers of the devices that were on it. */
  devices: (LedgerExtract & { device: string })[];
}

/** The JSON export of one unit; docs/audit-format.md says what each member means. */
export interface AuditDocument extends AuditParts {
  format: typeof AUDIT_FORMAT;
  version: typeof AUDIT_VERSION;
  subject: string;
  /** SHA-256 over the canonical form of the document without this member. */
  seal: string;
}

/**
 * Builds and seals the export of one unit. Throws when a list of entries does not reach from 1 to the head that the
 * book names, or holds entries of another subject: an export that ends early must not look whole.
 */
export function buildAuditDocument(parts: AuditParts): AuditDocument {
  const { assembly, serial, exportedAt, unit, configuration, entries, devices, count, headHash } = parts;
  const subject = `${assembly}/${serial}`;
  requireWhole(subject, parts);
  for (const ledger of devices) requireWhole(`devices/${ledger.device}`, ledger);
  const open = {
    format: AUDIT_FORMAT,
    version: AUDIT_VERSION,
    subject,
    assembly,
    serial,
    exportedAt,
    unit,
    configuration,
    entries,
    devices,
    count,
    headHash,
  } as const;
  return { ...open, seal: sealOfDocument(open) };
}

/** The seal that belongs to a document, whether or not it already carries one. Throws like `canonicalJson`. */
export function sealOfDocument(document: object): string {
  return sha256Hex(canonicalJson({ ...document, seal: undefined }));
}

function requireWhole(subject: string, { entries, count, headHash }: LedgerExtract): void {
  const stray = entries.findIndex((entry, index) => entry.seq !== index + 1 || entry.subject !== subject);
  if (stray >= 0) throw new Error(`The ledger of ${subject} is not in order at its place ${stray + 1}.`);
  if (entries.length !== count)
    throw new Error(`The ledger of ${subject} has ${count} entries, not ${entries.length}.`);
  if ((entries.at(-1)?.hash ?? GENESIS_HASH) !== headHash) {
    throw new Error(`The ledger of ${subject} does not end at its head ${headHash}.`);
  }
}
