import { endsEarly } from './json-text.js';
import { asRecord, Malformed, Members } from './read-members.js';
import type { FindingCode } from './verification-report.js';

const AUDIT_FORMAT = 'heatbook-audit';
const AUDIT_VERSIONS: readonly unknown[] = [1, 2];

/** A ledger as the file gives it; its entries are not yet believed to be any. */
export interface ReadLedger {
  readonly subject: string;
  readonly entries: readonly unknown[];
  readonly count: number;
  readonly headHash: string;
}

/** What version 2 has besides; not yet believed to be anything. */
export interface ReadExtras {
  readonly log: unknown;
  readonly statement: unknown;
  readonly people: readonly unknown[];
  readonly traces: readonly unknown[];
  readonly holds: readonly unknown[];
}

/** An audit file whose outline is right. */
export interface ReadAudit {
  readonly subject: string;
  readonly assembly: string;
  readonly serial: string;
  readonly exportedAt: unknown;
  readonly seal: string | null;
  readonly unit: ReadLedger;
  readonly devices: readonly ReadLedger[];
  /** Null in version 1. */
  readonly extras: ReadExtras | null;
  /** The whole document as parsed. */
  readonly document: Readonly<Record<string, unknown>>;
}

/** Why a file cannot be judged; the message is a sentence. */
export class UnreadableAudit extends Error {
  override readonly name = 'UnreadableAudit';

  constructor(
    readonly code: FindingCode,
    message: string,
  ) {
    super(message);
  }
}

/** Reads the outline of an audit file. @throws UnreadableAudit when it is cut, no JSON, no audit, or of a later version. */
export function readAudit(text: string): ReadAudit {
  const document = asRecord(parseJson(text));
  if (document?.format !== AUDIT_FORMAT) {
    throw new UnreadableAudit('not-an-audit', `This is no audit file: its "format" is not "${AUDIT_FORMAT}".`);
  }
  const { version } = document;
  if (!AUDIT_VERSIONS.includes(version)) {
    const found = typeof version === 'number' ? `version ${version}` : 'no version that is a number';
    const known = `versions ${AUDIT_VERSIONS.join(' and ')}`;
    throw new UnreadableAudit(
      'unknown-version',
      `The file has ${found}; known here are ${known}. Take a newer verifier.`,
    );
  }
  try {
    return outlineOf(document);
  } catch (error) {
    if (!(error instanceof Malformed)) throw error;
    throw new UnreadableAudit('header-malformed', `The file cannot be read as an audit: ${error.message}.`);
  }
}

/** @throws UnreadableAudit */
function parseJson(text: string): unknown {
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

function outlineOf(document: Readonly<Record<string, unknown>>): ReadAudit {
  const members = Members.of(document, '');
  for (const name of ['unit', 'configuration']) members.present(name);
  const subject = members.text('subject');
  return {
    subject,
    assembly: members.text('assembly'),
    serial: members.text('serial'),
    exportedAt: members.present('exportedAt'),
    seal: typeof document.seal === 'string' ? document.seal : null,
    unit: ledgerOf(members, subject),
    devices: members.each('devices').map((device) => ledgerOf(device, `devices/${device.text('device')}`)),
    extras: document.version === 1 ? null : extrasOf(members),
    document,
  };
}

function ledgerOf(members: Members, subject: string): ReadLedger {
  return {
    subject,
    entries: members.list('entries'),
    count: members.count('count'),
    headHash: members.text('headHash'),
  };
}

function extrasOf(members: Members): ReadExtras {
  members.present('audience');
  return {
    log: members.present('log'),
    statement: members.present('statement'),
    people: members.list('people'),
    traces: members.list('traces'),
    holds: members.list('holds'),
  };
}
