import { ArchiveRecord, ArchiveUnitName } from '../../../libs/ledger/archives/archive-record.js';

/** An archive as the API shows it. */
export interface ArchiveView extends Pick<
  ArchiveRecord,
  'id' | 'state' | 'formats' | 'since' | 'wanted' | 'done' | 'bytes' | 'manifestHash' | 'finishedAt' | 'expiresAt'
> {
  readonly missingCount: number;
  readonly by: string;
  /** Whose view it shows; null for the house's own. */
  readonly customer: string | null;
  readonly createdAt: string;
  /** Why the last attempt came to nothing; while it waits, it is tried again. */
  readonly error: string | null;
}

export interface ArchiveNow extends ArchiveView {
  /** Units that are unknown, or not theirs who asked, as far as it is. */
  readonly missing: readonly ArchiveUnitName[];
}

export function archiveView(record: ArchiveRecord): ArchiveView {
  const { id, state, formats, since, wanted, done, missing, bytes, manifestHash, owner } = record;
  return {
    ...{ id, state, wanted, done, missingCount: missing, bytes, formats, since, manifestHash },
    ...{ by: owner.name, customer: owner.customer, error: record.failure },
    ...{ createdAt: record.requestedAt, finishedAt: record.finishedAt, expiresAt: record.expiresAt },
  };
}
