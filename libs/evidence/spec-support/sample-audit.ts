import { GENESIS_HASH, type EntryBody, type JsonValue, type SealedEntry } from '../../ledger/ports/seal.js';
import { buildAuditDocument, type AuditDocument, type LedgerExtract } from '../audit-document.js';
import { canonicalJson } from '../canonical-json.js';
import { seal } from '../seal.js';

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
export function sampleAudit(entries: number, data?: JsonValue[]): AuditDocument {
  const subject = 'DEMO-100/SN-1';
  return buildAuditDocument({
    assembly: 'DEMO-100',
    serial: 'SN-1',
    exportedAt: '2026-03-03T10:00:00Z',
    unit: { state: 'in-rework', holds: [], budgets: [{ limit: 'unit-reflows', used: 1 }] },
    configuration: { limits: [{ kind: 'unit-reflows', allowed: 6 }] },
    devices: [{ device: 'D-1', ...sealAll([1, 2].map((seq) => sampleBody('devices/D-1', seq))) }],
    ...sealAll(Array.from({ length: entries }, (_, index) => sampleBody(subject, index + 1, data?.[index]))),
  });
}

/** The entry with the hash that its content gives, as a forger would leave it. */
export function rehash(entry: SealedEntry): SealedEntry {
  const body: Partial<SealedEntry> = { ...entry };
  delete body.hash;
  return { ...entry, hash: seal.sha256Hex(canonicalJson(body)) };
}
