import { GENESIS_HASH, type EntryBody, type JsonValue, type SealedEntry } from '../../ledger/ports/seal.js';
import { canonicalJson } from '../canonical-json.js';
import { seal } from '../seal.js';

/** A ledger with what the book says of its length and end. */
export interface LedgerExtract {
  entries: SealedEntry[];
  count: number;
  headHash: string;
}

/** An audit of version 1, which was written before there was a log. Files of it are still checked. */
export interface AuditDocument1 extends LedgerExtract {
  format: 'heatbook-audit';
  version: 1;
  subject: string;
  assembly: string;
  serial: string;
  exportedAt: string;
  unit: JsonValue;
  configuration: JsonValue;
  devices: (LedgerExtract & { device: string })[];
  seal: string;
}

/** Seals bodies into a ledger, one after the other. */
export function sealAll(bodies: EntryBody[]): LedgerExtract {
  const entries: SealedEntry[] = [];
  let headHash = GENESIS_HASH;
  for (const body of bodies) {
    const { hash } = seal.sealEntry(body, headHash);
    entries.push({ ...body, prevHash: headHash, hash });
    headHash = hash;
  }
  return { entries, count: entries.length, headHash };
}

/** An invented entry, different for each number. `data` stands in for what the station said. */
export function sampleBody(
  subject: string,
  seq: number,
  data: JsonValue = { refdes: 'U7', peakC: 200 + seq },
): EntryBody {
  return {
    subject,
    seq,
    type: 'heatbook.site.dressed.v1',
    time: `2026-03-02T08:${String(seq % 60).padStart(2, '0')}:00+01:00`,
    recordedAt: '2026-03-02T07:15:31.250Z',
    event: { source: '/stations/dress-1', id: `evt-${seq}` },
    actor: { station: 'dress-1', operator: 'op-7' },
    data,
    effects: [{ kind: 'count', limit: 'site-dressings', used: seq }],
    rules: 3,
  };
}

/** A sound audit of unit DEMO-100/SN-1 with as many entries, and one device with two. */
export function sampleAudit(entries: number, data?: JsonValue[]): AuditDocument1 {
  const subject = 'DEMO-100/SN-1';
  const open: Omit<AuditDocument1, 'seal'> = {
    format: 'heatbook-audit',
    version: 1,
    subject,
    assembly: 'DEMO-100',
    serial: 'SN-1',
    exportedAt: '2026-03-03T10:00:00Z',
    unit: { state: 'in-rework', holds: [], budgets: [{ limit: 'unit-reflows', used: 1 }] },
    configuration: { limits: [{ kind: 'unit-reflows', allowed: 6 }] },
    ...sealAll(Array.from({ length: entries }, (_, index) => sampleBody(subject, index + 1, data?.[index]))),
    devices: [{ device: 'D-1', ...sealAll([1, 2].map((seq) => sampleBody('devices/D-1', seq))) }],
  };
  return { ...open, seal: sealOfDocument(open) };
}

/** The seal that belongs to a document, whatever it carries: over all but itself and what is signed over it. */
export function sealOfDocument(document: object): string {
  return seal.sha256Hex(canonicalJson({ ...document, seal: undefined, statement: undefined }));
}

/** The entry with the hash that its content gives, as a forger would leave it. */
export function rehash(entry: SealedEntry): SealedEntry {
  const body: Partial<SealedEntry> = { ...entry };
  delete body.hash;
  return { ...entry, hash: seal.sha256Hex(canonicalJson(body)) };
}

/** The entries chained and numbered anew from the first one on, as a forger with time would leave them. */
export function rechain(entries: readonly SealedEntry[]): LedgerExtract {
  return sealAll(
    entries.map((entry, index) => {
      const { subject, type, time, recordedAt, event, actor, data, effects, rules } = entry;
      return { subject, seq: index + 1, type, time, recordedAt, event, actor, data, effects, rules };
    }),
  );
}
