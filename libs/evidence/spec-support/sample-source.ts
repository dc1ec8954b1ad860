import { AuditFacts, AuditLedger, AuditSource } from '../../ledger/audits/audit-source.js';
import { openLedger } from '../../ledger/audits/open-ledger.js';
import { EntryBody, EntryBytes, GENESIS_HASH, SealedEntry } from '../../ledger/ports/seal.js';
import { seal } from '../seal.js';

/** A ledger in memory, read as an export reads it. */
export interface SampleLedger {
  readonly entries: readonly SealedEntry[];
  /** The same as they are stored. */
  readonly stored: readonly EntryBytes[];
  readonly ledger: AuditLedger;
  /** Pages that were read so far. */
  readonly pages: readonly number[];
}

/** Seals bodies one after the other into a ledger. Reads of it can be watched. */
export function sampleLedger(subject: string, bodies: readonly Omit<EntryBody, 'subject' | 'seq'>[]): SampleLedger {
  const entries: SealedEntry[] = [];
  const stored: EntryBytes[] = [];
  let head = GENESIS_HASH;
  for (const [index, body] of bodies.entries()) {
    const whole: EntryBody = { ...body, subject, seq: index + 1 };
    const sealed = seal.sealEntry(whole, head);
    const { hash } = sealed;
    stored.push(sealed);
    entries.push({ ...whole, prevHash: head, hash });
    head = hash;
  }
  const pages: number[] = [];
  const reads = {
    ledgerBytes: (_key: string, { limit, afterSeq }: { limit: number; afterSeq: number | null }) => {
      pages.push(afterSeq ?? 0);
      return Promise.resolve(stored.slice(afterSeq ?? 0, (afterSeq ?? 0) + limit));
    },
  };
  return {
    entries,
    stored,
    pages,
    ledger: openLedger(reads, { key: subject, headSeq: entries.length, headHash: head }),
  };
}

/** An entry that a station made, different for each number. */
export function stationEntry(number: number, over: Partial<EntryBody> = {}): Omit<EntryBody, 'subject' | 'seq'> {
  return {
    type: 'heatbook.site.dressed.v1',
    time: '2030-01-07T09:00:00+01:00',
    recordedAt: '2030-01-07T08:00:01.250Z',
    event: { source: '/stations/dress-1', id: `evt-${String(number)}` },
    actor: { kind: 'station', station: 'dress-1', operator: 'op-7' },
    data: { refdes: 'U7', method: 'braid', contactSeconds: number },
    effects: [],
    rules: 3,
    ...over,
  };
}

/** An export of unit DEMO-100/SN-1 with the ledgers of devices. */
export function sampleSource(
  ledger: AuditLedger,
  devices: readonly (readonly [device: string, ledger: AuditLedger])[] = [],
  over: Partial<AuditFacts> = {},
): AuditSource {
  return {
    assembly: 'DEMO-100',
    serial: 'SN-1',
    exportedAt: '2030-01-08T10:00:00.000Z',
    audience: { for: 'house', leftOut: [] },
    unit: sampleUnit(ledger.headHash),
    holds: [],
    configuration: [],
    traces: [],
    people: [],
    log: null,
    ...over,
    ledger,
    devices: devices.map(([device, own]) => ({ ...own, device })),
    trace: () => Promise.resolve(undefined),
  };
}

function sampleUnit(headHash: string): AuditFacts['unit'] {
  const clock = { governing: null, remainingH: null, expiresAt: null, unknown: [], expired: [] };
  return {
    ...{ assembly: 'DEMO-100', serial: 'SN-1', customer: 'Nordlicht Instruments', state: 'in-house' },
    ...{ workOrder: null, complaint: 'U7 “öffen” 💥', received: true, headHash, changedAt: null },
    ...{ sites: [], budgets: [], holds: [], warnings: [] },
    moisture: { state: 'unknown', ...clock, boardDry: false, why: 'nobody said', remedy: null },
  };
}
