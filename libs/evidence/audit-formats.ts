import { AuditSource } from '../ledger/audits/audit-source.js';
import { LogSigner } from '../ledger/log/log-signer.js';
import { writeAuditCsv } from './csv/write-audit-csv.js';
import { writeEpcis } from './epcis/write-epcis.js';
import { writeAuditJson } from './json/write-audit-json.js';

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

/**
 * Every form that there is.
 * @param signer signs what a form can carry a signature in; null where this process has no key
 */
export function auditFormats({ signer }: { signer: LogSigner | null }): Record<AuditFormatName, AuditFormat> {
  return {
    json: {
      mediaType: 'application/json; charset=utf-8',
      extension: '.json',
      write: (source) => writeAuditJson(source, signer),
    },
    csv: { mediaType: 'text/csv; charset=utf-8; header=present', extension: '.csv', write: writeAuditCsv },
    pdf: { mediaType: 'application/pdf', extension: '.pdf', write: writePdfWhenAsked },
    epcis: { mediaType: 'application/ld+json', extension: '.epcis.jsonld', write: writeEpcis },
  };
}

/** Loads fonts and all else that draws pages with the first PDF: a process that writes none starts sooner. */
async function* writePdfWhenAsked(source: AuditSource): AsyncGenerator<Uint8Array, void> {
  const { writePdf } = await import('./pdf/write-pdf.js');
  yield* writePdf(source);
}
