import { AUDIT_FORMAT, AUDIT_VERSION } from './audit-document.js';
import { endsEarly } from './json-text.js';
import type { FindingCode } from './verification-report.js';

/** A ledger as the file gives it; its entries are not yet believed to be any. */
export interface ReadLedger {
  subject: string;
  entries: unknown[];
  count: number;
  headHash: string;
}

/** An audit file whose outline is right. */
export interface ReadAudit {
  subject: string;
  assembly: string;
  serial: string;
  seal: string | null;
  unit: ReadLedger;
  devices: ReadLedger[];
  /** The whole document as parsed. */
  document: Record<string, unknown>;
}

/** Why a file cannot be judged; the message is a sentence. */
export class UnreadableAudit extends Error {
  constructor(
    readonly code: FindingCode,
    message: string,
  ) {
    super(message);
  }
}

/** Reads the outline of an audit file. Throws UnreadableAudit when it is cut, no JSON, no audit, or of a later version. */
export function readAudit(text: string): ReadAudit {
  const document = asRecord(parse(text));
  if (document?.format !== AUDIT_FORMAT) {
    throw new UnreadableAudit('not-an-audit', `This is no audit file: its "format" is not "${AUDIT_FORMAT}".`);
  }
  const { version } = document;
  if (version !== AUDIT_VERSION) {
    const found = typeof version === 'number' ? `version ${version}` : 'no version that is a number';
    throw new UnreadableAudit('unknown-version', `The file has ${found}; known here is version ${AUDIT_VERSION}.`);
  }
  for (const name of ['exportedAt', 'unit', 'configuration']) {
    if (!(name in document)) throw malformed(`/${name}`, 'is missing');
  }
  const subject = stringAt(document, 'subject', '');
  return {
    subject,
    assembly: stringAt(document, 'assembly', ''),
    serial: stringAt(document, 'serial', ''),
    seal: typeof document.seal === 'string' ? document.seal : null,
    unit: ledgerAt(document, subject, ''),
    devices: arrayAt(document, 'devices', '').map((device, index) => {
      const pointer = `/devices/${index}`;
      const record = asRecord(device);
      if (record === null) throw malformed(pointer, 'is no object');
      return ledgerAt(record, `devices/${stringAt(record, 'device', pointer)}`, pointer);
    }),
    document,
  };
}

/** The value as an object with named members, or null. */
export function asRecord(value: unknown): Record<string, unknown> | null {
  return typeof value === 'object' && value !== null && !Array.isArray(value) ? { ...value } : null;
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    if (endsEarly(text)) {
      throw new UnreadableAudit(
        'file-cut',
        `The file ends early, after ${text.length} characters: its end is missing.`,
      );
    }
    throw new UnreadableAudit('not-json', 'The file is no valid JSON.');
  }
}

function ledgerAt(record: Record<string, unknown>, subject: string, pointer: string): ReadLedger {
  const count = record.count;
  if (typeof count !== 'number' || !Number.isSafeInteger(count) || count < 0) {
    throw malformed(`${pointer}/count`, 'is no number of entries');
  }
  return {
    subject,
    entries: arrayAt(record, 'entries', pointer),
    count,
    headHash: stringAt(record, 'headHash', pointer),
  };
}

function stringAt(record: Record<string, unknown>, name: string, pointer: string): string {
  const value = record[name];
  if (typeof value !== 'string') throw malformed(`${pointer}/${name}`, 'is no text');
  return value;
}

function arrayAt(record: Record<string, unknown>, name: string, pointer: string): unknown[] {
  const value = record[name];
  if (!Array.isArray(value)) throw malformed(`${pointer}/${name}`, 'is no list');
  return value;
}

function malformed(pointer: string, problem: string): UnreadableAudit {
  return new UnreadableAudit('header-malformed', `The file cannot be read as an audit: ${pointer} ${problem}.`);
}
