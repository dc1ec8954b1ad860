import { compareText } from '../../domain/events/event-order.js';
import { StreamKey } from '../../domain/subject/subject.js';
import { CensusGroup, LedgerPlace } from '../log/log-evidence.js';
import { LedgerReach } from '../log/log-reader.js';
import { LogFinding, LogLag, LogLeaf, LogStore, LogTransaction } from '../ports/log-store.js';
import { LogTables } from './log-tables.js';
import { MemoryLogReads } from './memory-log-reads.js';
import { MemoryLogTransaction } from './memory-log-transaction.js';
import { MemoryTables } from './memory-tables.js';
import { roundTrip } from './round-trip.js';
import { entryOf } from '../ports/seal.js';

/** The site-wide log in the memory of this process. */
export class MemoryLogStore extends MemoryLogReads implements LogStore {
  readonly #tables: MemoryTables;
  readonly #log: LogTables;
  #taken = false;

  constructor(tables: MemoryTables) {
    super(tables.log);
    this.#tables = tables;
    this.#log = tables.log;
  }

  async origin(proposed: string): Promise<string> {
    await roundTrip();
    return (this.#log.origin ??= proposed);
  }

  async alone<T>(work: (tx: LogTransaction) => Promise<T>): Promise<T | 'busy'> {
    await roundTrip();
    if (this.#taken) return 'busy';
    this.#taken = true;
    try {
      const tx = new MemoryLogTransaction(this.#log);
      const result = await work(tx);
      tx.commit();
      return result;
    } finally {
      this.#taken = false;
    }
  }

  async waitingCount(): Promise<number> {
    await roundTrip();
    return this.#log.inbox.length;
  }

  async lag(): Promise<LogLag> {
    await roundTrip();
    const { inbox, leaves, checkpoints } = this.#log;
    const since = (place: LedgerPlace | undefined): string | null =>
      place === undefined ? null : new Date(this.#recordedAt(place)).toISOString();
    const unplacedSince = since(inbox[0]?.entries[0]);
    const size = checkpoints.at(-1)?.size;
    return { unplacedSince, unsignedSince: size === undefined ? null : (since(leaves[size]) ?? unplacedSince) };
  }

  async newest(ledgers: readonly LedgerReach[], size: number): Promise<readonly LogLeaf[]> {
    await roundTrip();
    const among = this.#log.leaves.slice(0, size);
    return ledgers.flatMap(
      ({ subject, seq }) => among.findLast((leaf) => leaf.subject === subject && leaf.seq <= seq) ?? [],
    );
  }

  async ledgersAt(
    size: number,
    { after, limit, prefix = '' }: { after: StreamKey | null; limit: number; prefix?: string },
  ): Promise<readonly LedgerPlace[]> {
    await roundTrip();
    const last = new Map(
      this.#log.leaves.slice(0, size).map(({ subject, seq, hash }) => [subject, { subject, seq, hash }]),
    );
    return [...last.values()]
      .filter(({ subject }) => (after === null || subject > after) && subject.startsWith(prefix))
      .sort((a, b) => compareText(a.subject, b.subject))
      .slice(0, limit);
  }

  async ledgerLeaves(subject: StreamKey, afterSeq: number, limit: number): Promise<readonly LogLeaf[]> {
    await roundTrip();
    return this.#log.leaves.filter((leaf) => leaf.subject === subject && leaf.seq > afterSeq).slice(0, limit);
  }

  async sizeBefore(time: string): Promise<number> {
    await roundTrip();
    return this.#log.leaves.findLastIndex((leaf) => Date.parse(this.#recordedAt(leaf)) < Date.parse(time)) + 1;
  }

  async nextRecorded(from: number, except: StreamKey): Promise<string | undefined> {
    await roundTrip();
    const leaf = this.#log.leaves.slice(from).find(({ subject }) => subject !== except);
    return leaf === undefined ? undefined : new Date(this.#recordedAt(leaf)).toISOString();
  }

  async besideLedgers(
    from: number,
    limit: number,
  ): Promise<readonly (LogLeaf & { readonly ledgerHash: string | null })[]> {
    const leaves = await this.leaves(from, limit);
    return leaves.map((leaf) => ({
      ...leaf,
      ledgerHash: this.#tables.ledgers.get(leaf.subject)?.entries[leaf.seq - 1]?.hash ?? null,
    }));
  }

  async outsideLog(limit: number): Promise<readonly LedgerPlace[]> {
    await roundTrip();
    const waiting = this.#log.inbox.flatMap(({ entries }) => entries);
    const told = new Set([...this.#log.leaves, ...waiting].map(({ subject, seq }) => `${subject} ${seq}`));
    const all = [...this.#tables.ledgers].flatMap(([subject, { entries }]) =>
      entries.map(({ hash }, at) => ({ subject, seq: at + 1, hash })),
    );
    return all
      .filter(({ subject, seq }) => !told.has(`${subject} ${seq}`))
      .sort((a, b) => compareText(a.subject, b.subject) || a.seq - b.seq)
      .slice(0, limit);
  }

  async keepCensusGroups(size: number, groups: readonly CensusGroup[]): Promise<void> {
    await roundTrip();
    if (!this.#log.censusGroups.has(size)) this.#log.censusGroups.set(size, structuredClone(groups));
  }

  async censusGroups(size: number): Promise<readonly CensusGroup[]> {
    await roundTrip();
    return [...(this.#log.censusGroups.get(size) ?? [])].sort((a, b) => compareText(a.group, b.group));
  }

  async note(finding: LogFinding): Promise<void> {
    await roundTrip();
    this.#log.findings.set(finding.watcher, { ...finding });
  }

  async findings(): Promise<readonly LogFinding[]> {
    await roundTrip();
    return [...this.#log.findings.values()].sort((a, b) => compareText(a.watcher, b.watcher));
  }

  #recordedAt({ subject, seq }: LedgerPlace): string {
    const row = this.#tables.ledgers.get(subject)?.entries[seq - 1];
    return row === undefined ? '' : entryOf(row).recordedAt;
  }
}
