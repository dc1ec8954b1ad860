import { CensusGroup, LedgerPlace } from '../log/log-evidence.js';
import { LogDelivery, LogFinding, LogLeaf, StoredCheckpoint } from '../ports/log-store.js';

/** The site-wide log as a memory book keeps it. Rows are added or replaced, never changed. */
export class LogTables {
  origin: string | null = null;
  inbox: readonly LogDelivery[] = [];
  leaves: readonly LogLeaf[] = [];
  /** `{level} {index}` to the hash of the subtree. */
  nodes: ReadonlyMap<string, Uint8Array> = new Map();
  checkpoints: readonly StoredCheckpoint[] = [];
  /** By size of the log. */
  readonly censusGroups = new Map<number, readonly CensusGroup[]>();
  readonly findings = new Map<string, LogFinding>();
  #delivered = 0;

  /** As the trigger of the database does in the commit of the entries. */
  deliver(entries: readonly LedgerPlace[]): void {
    this.#delivered += 1;
    const places = entries.map(({ subject, seq, hash }) => ({ subject, seq, hash }));
    this.inbox = [...this.inbox, { number: String(this.#delivered), entries: places }];
  }
}
