import { ArchiveOwner, ArchiveUnitName } from '../../ledger/archives/archive-record.js';
import { AuditSource } from '../../ledger/audits/audit-source.js';
import { LogSigner } from '../../ledger/log/log-signer.js';
import { ArchiveStore } from '../../ledger/ports/archive-store.js';
import { Clock } from '../../ledger/ports/clock.js';
import { Log } from '../../ledger/ports/log.js';
import { AuditFormat } from '../audit-formats.js';
import { ArchiveCensus } from './archive-census.js';

/** What archives are made from. */
export interface ArchiveDeps {
  readonly archives: ArchiveStore;
  readonly clock: Clock;
  readonly log: Log;
  readonly formats: Partial<Readonly<Record<string, Pick<AuditFormat, 'write'>>>>;
  /** Null where this process has no key: the manifest is then not signed. */
  readonly signer: LogSigner | null;
  /** Opens the history of a unit as its reader may see it; undefined where the unit is unknown to them. */
  open(
    reader: ArchiveOwner,
    unit: ArchiveUnitName,
    wish: { readonly since: readonly number[]; readonly signal: AbortSignal },
  ): Promise<AuditSource | undefined>;
  /** The newest signed checkpoint; null where there is none. */
  checkpoint(): Promise<string | null>;
  /** The newest census that has an assembly; undefined where there is none. */
  census(assembly: string): Promise<ArchiveCensus | undefined>;
}
