import { LedgerPlace } from '../log/log-evidence.js';
import { LogDelivery, LogLeaf, LogNode, LogTransaction, StoredCheckpoint } from '../ports/log-store.js';
import { LogTables } from './log-tables.js';
import { LogRows, MemoryLogReads, nodeKey } from './memory-log-reads.js';
import { roundTrip } from './round-trip.js';

/** What the sequencer does is seen by others once it is committed. */
export class MemoryLogTransaction extends MemoryLogReads implements LogTransaction {
  readonly #log: LogTables;
  readonly #draft: { -readonly [K in keyof LogRows]: LogRows[K] };
  readonly #delivered = new Set<string>();

  constructor(log: LogTables) {
    const { leaves, nodes, checkpoints } = log;
    const draft = { leaves, nodes, checkpoints };
    super(draft);
    this.#log = log;
    this.#draft = draft;
  }

  async waiting(deliveries: number, entries: number): Promise<readonly LogDelivery[]> {
    await roundTrip();
    const oldest = this.#log.inbox.filter(({ number }) => !this.#delivered.has(number)).slice(0, deliveries);
    let sum = 0;
    return oldest.filter((delivery, n) => (sum += delivery.entries.length) <= entries || n === 0);
  }

  async known(places: readonly LedgerPlace[]): Promise<readonly LedgerPlace[]> {
    await roundTrip();
    const asked = new Set(places.map(placeKey));
    return this.#draft.leaves
      .filter((leaf) => asked.has(placeKey(leaf)))
      .map(({ subject, seq, hash }) => ({ subject, seq, hash }));
  }

  async append(leaves: readonly LogLeaf[], nodes: readonly LogNode[], delivered: readonly string[]): Promise<void> {
    await roundTrip();
    for (const [n, { index }] of leaves.entries()) {
      if (index !== this.#draft.leaves.length + n) throw new Error(`Leaf ${index} does not follow the last one.`);
    }
    const known = await this.known(leaves);
    if (known.length > 0) throw new Error(`An entry of ${known[0]?.subject ?? ''} is in the log already.`);
    this.#draft.leaves = [...this.#draft.leaves, ...leaves];
    this.#draft.nodes = new Map([...this.#draft.nodes, ...nodes.map((node) => [nodeKey(node), node.hash] as const)]);
    for (const number of delivered) this.#delivered.add(number);
  }

  async keepCheckpoint(checkpoint: StoredCheckpoint): Promise<void> {
    await roundTrip();
    this.#draft.checkpoints = [...this.#draft.checkpoints, checkpoint];
  }

  commit(): void {
    Object.assign(this.#log, this.#draft);
    this.#log.inbox = this.#log.inbox.filter(({ number }) => !this.#delivered.has(number));
  }
}

function placeKey({ subject, seq }: Pick<LedgerPlace, 'subject' | 'seq'>): string {
  return `${subject} ${seq}`;
}
