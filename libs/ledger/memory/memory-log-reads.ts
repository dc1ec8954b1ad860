import { SubtreePlace } from '../log/merkle/subtrees.js';
import { LogLeaf, LogReads, StoredCheckpoint } from '../ports/log-store.js';
import { roundTrip } from './round-trip.js';

/** What is read of the log: what is committed, or what a transaction has made of it. */
export interface LogRows {
  readonly leaves: readonly LogLeaf[];
  readonly nodes: ReadonlyMap<string, Uint8Array>;
  readonly checkpoints: readonly StoredCheckpoint[];
}

export function nodeKey({ level, index }: SubtreePlace): string {
  return `${level} ${index}`;
}

/** Reads of the log in memory. */
export class MemoryLogReads implements LogReads {
  constructor(protected readonly rows: LogRows) {}

  async size(): Promise<number> {
    await roundTrip();
    return this.rows.leaves.length;
  }

  async leaves(from: number, limit: number): Promise<readonly LogLeaf[]> {
    await roundTrip();
    return this.rows.leaves.slice(from, from + limit);
  }

  async leavesAt(indexes: readonly number[]): Promise<readonly LogLeaf[]> {
    await roundTrip();
    const sorted = [...new Set(indexes)].sort((a, b) => a - b);
    return sorted.flatMap((index) => this.rows.leaves[index] ?? []);
  }

  async nodes(places: readonly SubtreePlace[]): Promise<readonly Uint8Array[]> {
    await roundTrip();
    return places.map((place) => {
      const hash = this.rows.nodes.get(nodeKey(place));
      if (hash === undefined) throw new Error(`The log has no hash of subtree ${place.index} at level ${place.level}.`);
      return hash;
    });
  }

  async checkpoint(): Promise<StoredCheckpoint | undefined> {
    await roundTrip();
    return this.rows.checkpoints.at(-1);
  }
}
