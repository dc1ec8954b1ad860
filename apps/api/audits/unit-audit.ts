import { devicesAboard } from '../../../libs/domain/book/reach.js';
import { deviceKey, StreamKey } from '../../../libs/domain/subject/subject.js';
import { AuditDocument, buildAuditDocument, LedgerExtract } from '../../../libs/evidence/audit-document.js';
import { Principal } from '../../../libs/ledger/identity/principal.js';
import { SubjectRecord } from '../../../libs/ledger/ports/book-store.js';
import { ReadStore } from '../../../libs/ledger/ports/read-store.js';
import { JsonValue, SealedEntry } from '../../../libs/ledger/ports/seal.js';
import { auditConfiguration } from '../../../libs/ledger/views/audit-configuration.js';
import { isCustomer, readsFor } from '../access/reads-for.js';
import { ApiDeps } from '../api-deps.js';
import { seenUnit } from '../units/seen-unit.js';
import { UnitReading } from '../units/unit-reader.js';

const PAGE = 500;

/**
 * The whole history of a unit, sealed, as it stood when the unit was read: entries that came since are left out. To a
 * customer without the ledgers of devices, which tell of other boards too.
 */
export async function unitAudit(
  deps: Pick<ApiDeps, 'reads' | 'customerReads' | 'log' | 'setup' | 'clock'>,
  { state, record, view }: UnitReading,
  caller: Principal,
): Promise<AuditDocument> {
  const { setup, clock } = deps;
  const reads = readsFor(deps, caller);
  const { assembly, serial } = state;
  const names = [...new Set([...state.devicesSeen, ...devicesAboard(state)])].sort();
  const known = isCustomer(caller) ? [] : await reads.subjects(names.map(deviceKey));
  const devices: (LedgerExtract & { device: string })[] = [];
  for (const device of known) {
    if (device.headSeq > 0) devices.push({ device: nameOf(device.key), ...(await wholeLedger(reads, device)) });
  }
  const own = await wholeLedger(reads, record);
  const judged = [...own.entries, ...devices.flatMap(({ entries }) => entries)];
  return buildAuditDocument({
    assembly,
    serial,
    exportedAt: clock.now(),
    unit: asJson(seenUnit(view, caller)),
    configuration: asJson(auditConfiguration(setup, assembly, judged)),
    devices,
    ...own,
  });
}

/** A ledger from its first entry to the head that its record names. */
async function wholeLedger(reads: Pick<ReadStore, 'ledger'>, record: SubjectRecord): Promise<LedgerExtract> {
  const entries: SealedEntry[] = [];
  while (entries.length < record.headSeq) {
    const limit = Math.min(PAGE, record.headSeq - entries.length);
    const afterSeq = entries.at(-1)?.seq ?? null;
    const page = await reads.ledger(record.key, { limit, order: 'asc', afterSeq });
    // Shorter than its head says: the document's builder refuses it, better than waiting for ever.
    if (page.length === 0) break;
    entries.push(...page);
  }
  return { entries, count: record.headSeq, headHash: record.headHash };
}

function nameOf(key: StreamKey): string {
  return key.slice('devices/'.length);
}

/** A view as plain JSON, without members that are undefined. */
function asJson(value: object): JsonValue {
  return JSON.parse(JSON.stringify(value)) as JsonValue;
}
