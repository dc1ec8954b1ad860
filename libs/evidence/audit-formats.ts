import { AuditSource } from '../ledger/audits/audit-source.js';

export const AUDIT_FORMAT_NAMES = ['json', 'csv', 'pdf', 'epcis'] as const;
export type AuditFormatName = (typeof AUDIT_FORMAT_NAMES)[number];

/** One form that an export of a unit comes in. */
export interface AuditFormat {
  readonly mediaType: string;
  /** Of the file's name, with its dot. */
  readonly extension: string;
  /**
   * Writes the export piece by piece, in memory that does not grow with the number of entries (a PDF's does with its pages).
   * @throws Error while it is read, where the book has less than it says
   */
  write(source: AuditSource): AsyncIterable<Uint8Array>;
}
